import type { ContextBridge, IpcRenderer, WebUtils } from 'electron'
import type { DesktopBridge } from '../../src/contract/desktop-bridge.ts'
import { HOST_PORT } from '../../src/contract/desktop-bridge.ts'
import { CHANNELS, isMenuCommand } from './channels.ts'

/** What the bridge uses of Electron, and of the page it stands before. */
export interface PreloadApi {
  readonly contextBridge: Pick<ContextBridge, 'exposeInMainWorld'>
  readonly ipcRenderer: Pick<IpcRenderer, 'send' | 'on'>
  readonly webUtils: Pick<WebUtils, 'getPathForFile'>
}

export interface PageWindow {
  readonly location: { readonly origin: string }
  postMessage(message: unknown, targetOrigin: string, transfer: readonly unknown[]): void
}

/** Gives the page `window.lanthorn`: a few words to the main process, and the host's port from it. No channel name reaches the page. */
export function exposeBridge({ contextBridge, ipcRenderer, webUtils }: PreloadApi, page: PageWindow): void {
  ipcRenderer.on(CHANNELS.port, ({ ports }) => page.postMessage(HOST_PORT, page.location.origin, ports))
  const bridge: DesktopBridge = {
    connect: () => ipcRenderer.send(CHANNELS.connect),
    openDialog: () => ipcRenderer.send(CHANNELS.openDialog),
    saveDialog: () => ipcRenderer.send(CHANNELS.saveDialog),
    openDropped(file) {
      // What was dragged out of a page has no place on a disk.
      const path = webUtils.getPathForFile(file as Parameters<WebUtils['getPathForFile']>[0])
      if (path !== '') ipcRenderer.send(CHANNELS.openDropped, path)
    },
    onMenu(call) {
      ipcRenderer.on(CHANNELS.menu, (_event, raw: unknown) => {
        if (isMenuCommand(raw)) call(raw)
      })
    },
  }
  contextBridge.exposeInMainWorld('lanthorn', bridge)
}
