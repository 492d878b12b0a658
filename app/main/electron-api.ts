import type {
  App,
  BrowserWindow,
  BrowserWindowConstructorOptions,
  Dialog,
  IpcMain,
  Menu,
  MenuItemConstructorOptions,
  MessageChannelMain,
  MessagePortMain,
  PowerMonitor,
  PowerSaveBlocker,
  Protocol,
  Session,
  UtilityProcess,
  WebContents,
} from 'electron'

export type UsedContents = Pick<
  WebContents,
  'id' | 'on' | 'postMessage' | 'send' | 'setWindowOpenHandler' | 'reload' | 'getURL'
>

export type UsedWindow = Pick<
  BrowserWindow,
  | 'on'
  | 'once'
  | 'loadURL'
  | 'show'
  | 'focus'
  | 'isMinimized'
  | 'restore'
  | 'isDestroyed'
  | 'destroy'
  | 'setTitle'
  | 'setDocumentEdited'
  | 'setRepresentedFilename'
> & { readonly webContents: UsedContents }

export type UsedChild = Pick<UtilityProcess, 'on' | 'postMessage' | 'kill' | 'pid'>

/** A message channel's two ends. */
export interface UsedChannel {
  readonly port1: MessagePortMain
  readonly port2: MessagePortMain
}

/** What the main process uses of Electron, in Electron's own types; a test hands in a stand-in. */
export interface ElectronApi {
  readonly app: Pick<
    App,
    | 'requestSingleInstanceLock'
    | 'quit'
    | 'exit'
    | 'on'
    | 'whenReady'
    | 'addRecentDocument'
    | 'getPath'
    | 'isPackaged'
    | 'enableSandbox'
  >
  readonly BrowserWindow: new (options: BrowserWindowConstructorOptions) => UsedWindow
  readonly MessageChannelMain: new () => MessageChannelMain
  readonly Menu: {
    setApplicationMenu(menu: Menu | null): void
    buildFromTemplate(template: MenuItemConstructorOptions[]): Menu
  }
  readonly dialog: Pick<Dialog, 'showOpenDialog' | 'showSaveDialog' | 'showMessageBox'>
  readonly ipcMain: Pick<IpcMain, 'on'>
  readonly powerMonitor: Pick<PowerMonitor, 'on'>
  readonly powerSaveBlocker: Pick<PowerSaveBlocker, 'start' | 'stop'>
  readonly protocol: Pick<Protocol, 'registerSchemesAsPrivileged' | 'handle'>
  readonly session: {
    readonly defaultSession: Pick<Session, 'setPermissionRequestHandler' | 'setPermissionCheckHandler'> & {
      readonly webRequest: Pick<Session['webRequest'], 'onBeforeRequest'>
    }
  }
  readonly utilityProcess: { fork(path: string, args?: string[], options?: ForkOptions): UsedChild }
}

export interface ForkOptions {
  serviceName?: string
  stdio?: 'inherit'
  env?: NodeJS.ProcessEnv
}
