import type { ElectronApi, UsedWindow } from './electron-api.ts'
import { fenceContents } from './fences.ts'
import { SCREENS_ORIGIN } from './screens-protocol.ts'

/** A page that breaks so often within this time is left alone. */
const BREAKS = 3
const BREAK_WINDOW_MS = 30_000

/** The one window. It knows neither Node nor Electron; when its page breaks it is drawn anew, and the music does not notice. */
export function openWindow(
  { BrowserWindow }: Pick<ElectronApi, 'BrowserWindow'>,
  preload: string,
): UsedWindow {
  const window = new BrowserWindow({
    width: 1280,
    height: 800,
    minWidth: 760,
    minHeight: 560,
    show: false,
    backgroundColor: '#0b110e',
    title: 'Lanthorn',
    webPreferences: {
      preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webviewTag: false,
      spellcheck: false,
      // On a second display behind another window the page must still tell the truth.
      backgroundThrottling: false,
    },
  })
  const { webContents } = window
  fenceContents(webContents)
  let breaks: number[] = []
  webContents.on('render-process-gone', (_event, { reason }) => {
    if (reason === 'clean-exit' || window.isDestroyed()) return
    const now = performance.now()
    breaks = [...breaks.filter((at) => now - at < BREAK_WINDOW_MS), now]
    if (breaks.length <= BREAKS) webContents.reload()
  })
  window.once('ready-to-show', () => window.show())
  void window.loadURL(`${SCREENS_ORIGIN}/index.html`)
  return window
}
