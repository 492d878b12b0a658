import type { MenuItemConstructorOptions } from 'electron'
import type { MenuCommand } from '../../src/contract/desktop-bridge.ts'

export interface MenuActions {
  /** To the window, which does it as if its own button were pressed. */
  readonly command: (command: MenuCommand) => void
  /** Straight to the host: also when the window hangs. */
  readonly dark: () => void
  readonly openFile: (path: string) => void
  readonly openDemo: () => void
  readonly reload: () => void
}

const ROOMS: readonly (readonly [MenuCommand, string])[] = [
  ['stage', 'Stage'],
  ['songs', 'Songs'],
  ['sheet', 'Sheet'],
  ['steps', 'Steps'],
  ['tuning', 'Tuning'],
  ['rig', 'Rig'],
  ['checks', 'Checks'],
  ['monitor', 'Monitor'],
]

/** The menu of the app; `recent`: paths of shows opened before, latest first. */
export function menuTemplate(
  actions: MenuActions,
  recent: readonly string[],
  platform: NodeJS.Platform,
): MenuItemConstructorOptions[] {
  const item = (label: string, command: MenuCommand, accelerator?: string): MenuItemConstructorOptions => ({
    label,
    click: () => actions.command(command),
    ...(accelerator === undefined ? {} : { accelerator }),
  })
  const recents: MenuItemConstructorOptions[] =
    recent.length === 0
      ? [{ label: 'None yet', enabled: false }]
      : recent.map((path) => ({ label: path, click: () => actions.openFile(path) }))
  return [
    ...(platform === 'darwin' ? [{ role: 'appMenu' } as const] : []),
    {
      label: '&File',
      submenu: [
        item('&New show…', 'new-show', 'CmdOrCtrl+N'),
        item('&Open…', 'open', 'CmdOrCtrl+O'),
        { label: 'Open &recent', submenu: recents },
        { label: 'Open the &demo', click: actions.openDemo },
        { type: 'separator' },
        item('&Save', 'save', 'CmdOrCtrl+S'),
        item('Save &as…', 'save-as', 'CmdOrCtrl+Shift+S'),
        { type: 'separator' },
        { role: 'quit', accelerator: 'CmdOrCtrl+Q' },
      ],
    },
    {
      label: '&Edit',
      submenu: [
        item('&Undo', 'undo', 'CmdOrCtrl+Z'),
        item('&Redo', 'redo', 'CmdOrCtrl+Shift+Z'),
        { type: 'separator' },
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
      ],
    },
    {
      label: '&Play',
      submenu: [
        { label: '&Dark', accelerator: 'F8', click: actions.dark },
        { type: 'separator' },
        // The page itself hears these keys, where no field has them.
        { ...item('&Next song', 'next-song', 'PageDown'), registerAccelerator: false },
        { ...item('&Previous song', 'previous-song', 'PageUp'), registerAccelerator: false },
      ],
    },
    {
      label: '&Room',
      submenu: ROOMS.map(([command, label], place) => item(label, command, `CmdOrCtrl+${place + 1}`)),
    },
    {
      label: '&Window',
      submenu: [
        { label: 'Draw the window a&new', click: actions.reload },
        { role: 'togglefullscreen' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { role: 'resetZoom' },
        { role: 'minimize' },
      ],
    },
  ]
}
