import type { BrowserWindowConstructorOptions, MenuItemConstructorOptions, MessagePortMain } from 'electron'
import type { ElectronApi, UsedChild, UsedWindow } from '../../app/main/electron-api.ts'

type Listener = (...args: never[]) => void

/** Listeners by event, as Electron's objects have them. */
class Emitter {
  readonly #listeners = new Map<string, Listener[]>()

  on(event: string, listener: Listener): this {
    this.#listeners.set(event, [...(this.#listeners.get(event) ?? []), listener])
    return this
  }
  once(event: string, listener: Listener): this {
    return this.on(event, listener)
  }
  emit(event: string, ...args: unknown[]): void {
    for (const listener of this.#listeners.get(event) ?? [])
      (listener as (...given: unknown[]) => void)(...args)
  }
}

/** An event that can be prevented. */
export class Preventable {
  isPrevented = false
  preventDefault(): void {
    this.isPrevented = true
  }
}

export class StandInContents extends Emitter {
  readonly id: number
  readonly sent: { readonly channel: string; readonly payload: unknown; readonly ports: unknown[] }[] = []
  reloads = 0
  openHandler: Parameters<UsedWindow['webContents']['setWindowOpenHandler']>[0] | undefined
  url = ''

  constructor(id: number) {
    super()
    this.id = id
  }
  postMessage(channel: string, payload: unknown, ports: unknown[] = []): void {
    this.sent.push({ channel, payload, ports })
  }
  send(channel: string, payload?: unknown): void {
    this.sent.push({ channel, payload, ports: [] })
  }
  setWindowOpenHandler(handler: Parameters<UsedWindow['webContents']['setWindowOpenHandler']>[0]): void {
    this.openHandler = handler
  }
  reload(): void {
    this.reloads++
  }
  getURL(): string {
    return this.url
  }
}

export class StandInWindow extends Emitter {
  readonly options: BrowserWindowConstructorOptions
  readonly webContents: StandInContents
  title = ''
  isEdited = false
  file = ''
  shown = 0
  focused = 0
  isSmall = false

  constructor(options: BrowserWindowConstructorOptions, id: number) {
    super()
    this.options = options
    this.webContents = new StandInContents(id)
  }
  loadURL(url: string): Promise<void> {
    this.webContents.url = url
    return Promise.resolve()
  }
  show(): void {
    this.shown++
  }
  focus(): void {
    this.focused++
  }
  isMinimized(): boolean {
    return this.isSmall
  }
  restore(): void {
    this.isSmall = false
  }
  isDestroyed(): boolean {
    return false
  }
  destroy(): void {}
  setTitle(title: string): void {
    this.title = title
  }
  setDocumentEdited(edited: boolean): void {
    this.isEdited = edited
  }
  setRepresentedFilename(file: string): void {
    this.file = file
  }
}

export class StandInChild extends Emitter {
  readonly path: string
  readonly options: unknown
  readonly got: {
    readonly message: { readonly type: string; readonly [field: string]: unknown }
    readonly ports: unknown[]
  }[] = []
  readonly pid = 77
  kills = 0

  constructor(path: string, options: unknown) {
    super()
    this.path = path
    this.options = options
  }
  postMessage(message: { type: string }, ports: unknown[] = []): void {
    this.got.push({ message, ports })
  }
  kill(): boolean {
    this.kills++
    return true
  }
  /** The types of what it was sent. */
  types(): string[] {
    return this.got.map(({ message }) => message.type)
  }
}

/** Electron as a test sees it: what was asked of it, and hands to make things happen. Typed by what the main process uses of Electron's own types. */
export class StandInElectron {
  readonly appEvents = new Emitter()
  readonly ipc = new Emitter()
  readonly power = new Emitter()
  readonly windows: StandInWindow[] = []
  readonly children: StandInChild[] = []
  readonly log: string[] = []
  readonly recentDocuments: string[] = []
  readonly blockers = new Set<number>()
  isFirst = true
  lockData: unknown
  menu: MenuItemConstructorOptions[] = []
  /** Answers of the next dialogs. */
  openPaths: string[] = []
  savePath = ''
  boxAnswer = 0
  asked = 0
  protocolHandler: ((request: Request) => Response | Promise<Response>) | undefined
  schemes: { scheme: string }[] = []
  permission: Parameters<ElectronApi['session']['defaultSession']['setPermissionRequestHandler']>[0] = null
  permissionCheck: Parameters<ElectronApi['session']['defaultSession']['setPermissionCheckHandler']>[0] = null
  request: ((details: { url: string }, answer: (verdict: { cancel?: boolean }) => void) => void) | undefined
  #blockerCount = 0
  #ready: () => void = () => {}

  readonly api: ElectronApi

  constructor() {
    const { windows } = this
    const BrowserWindow = class extends StandInWindow {
      constructor(options: BrowserWindowConstructorOptions) {
        super(options, windows.length + 1)
        windows.push(this)
      }
    }
    const MessageChannelMain = class {
      readonly port1 = { end: 1 } as unknown as MessagePortMain
      readonly port2 = { end: 2 } as unknown as MessagePortMain
    }
    const whenReady = new Promise<void>((resolve) => (this.#ready = resolve))
    this.api = {
      app: {
        requestSingleInstanceLock: (data) => {
          this.lockData = data
          this.log.push('lock')
          return this.isFirst
        },
        quit: () => this.quit(),
        exit: () => void this.log.push('exit'),
        on: this.#on(this.appEvents),
        whenReady: () => whenReady,
        addRecentDocument: (path) => void this.recentDocuments.push(path),
        getPath: (name) => `/home/player/${name}`,
        isPackaged: true,
        enableSandbox: () => void this.log.push('sandbox'),
      },
      BrowserWindow: BrowserWindow as unknown as new (options: BrowserWindowConstructorOptions) => UsedWindow,
      MessageChannelMain: MessageChannelMain as unknown as ElectronApi['MessageChannelMain'],
      Menu: {
        buildFromTemplate: (template) => {
          this.menu = template
          return template as unknown as ReturnType<ElectronApi['Menu']['buildFromTemplate']>
        },
        setApplicationMenu: () => void this.log.push('menu'),
      },
      dialog: {
        showOpenDialog: (() =>
          Promise.resolve({
            canceled: this.openPaths.length === 0,
            filePaths: this.openPaths,
          })) as ElectronApi['dialog']['showOpenDialog'],
        showSaveDialog: (() =>
          Promise.resolve({
            canceled: this.savePath === '',
            filePath: this.savePath,
          })) as ElectronApi['dialog']['showSaveDialog'],
        showMessageBox: (() => {
          this.asked++
          return Promise.resolve({ response: this.boxAnswer, checkboxChecked: false })
        }) as ElectronApi['dialog']['showMessageBox'],
      },
      ipcMain: { on: this.#on(this.ipc) },
      powerMonitor: { on: this.#on(this.power) },
      powerSaveBlocker: {
        start: (kind) => {
          this.log.push(`keep awake: ${kind}`)
          this.blockers.add(++this.#blockerCount)
          return this.#blockerCount
        },
        stop: (id) => this.blockers.delete(id),
      },
      protocol: {
        registerSchemesAsPrivileged: (schemes) => {
          this.schemes = schemes
          this.log.push('scheme')
        },
        handle: (_scheme, handler) => {
          this.protocolHandler = handler as typeof this.protocolHandler
        },
      },
      session: {
        defaultSession: {
          setPermissionRequestHandler: (handler) => void (this.permission = handler),
          setPermissionCheckHandler: (handler) => void (this.permissionCheck = handler),
          webRequest: {
            onBeforeRequest: ((handler: typeof this.request) => {
              this.request = handler
            }) as ElectronApi['session']['defaultSession']['webRequest']['onBeforeRequest'],
          },
        },
      },
      utilityProcess: {
        fork: (path, _args, options) => {
          const child = new StandInChild(path, options)
          this.children.push(child)
          this.log.push('fork')
          return child as unknown as UsedChild
        },
      },
    }
  }

  /** Says that Electron is ready, and lets what waited for it run. */
  async ready(): Promise<void> {
    this.#ready()
    await settled()
  }

  /** As `app.quit()`: asks, and closes nothing when prevented. */
  quit(): Preventable {
    this.log.push('quit')
    const event = new Preventable()
    this.appEvents.emit('before-quit', event)
    return event
  }

  get window(): StandInWindow {
    const last = this.windows.at(-1)
    if (!last) throw new Error('no window was opened')
    return last
  }

  get child(): StandInChild {
    const last = this.children.at(-1)
    if (!last) throw new Error('no utility process was forked')
    return last
  }

  /** A message of a window's frame to the main process; from our own page where not said otherwise. */
  fromWindow(
    channel: string,
    payload?: unknown,
    from: { id?: number; url?: string; parent?: unknown } = {},
  ): void {
    const { id = this.window.webContents.id, url = this.window.webContents.url, parent = null } = from
    this.ipc.emit(channel, { sender: { id }, senderFrame: { url, parent } }, payload)
  }

  /** `on` of one of Electron's objects; its listeners' types are Electron's, per event. */
  #on<On>(emitter: Emitter): On {
    return ((event: string, listener: Listener) => emitter.on(event, listener)) as On
  }
}

/** Lets what was promised happen. */
export async function settled(): Promise<void> {
  for (let turn = 0; turn < 10; turn++) await Promise.resolve()
}
