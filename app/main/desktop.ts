import { basename } from 'node:path'
import type { IpcMainEvent } from 'electron'
import type { FromHost } from '../../src/contract/from-host.ts'
import { CHANNELS } from '../preload/channels.ts'
import type { ElectronApi, UsedWindow } from './electron-api.ts'
import { fenceSession, isOurs } from './fences.ts'
import { HostChild } from './host-child.ts'
import { KeepAwake } from './keep-awake.ts'
import { menuTemplate } from './menu.ts'
import { openWindow } from './open-window.ts'
import { registerScheme, serveScreens } from './screens-protocol.ts'
import { isPath, showsInArguments } from './shows-in-arguments.ts'

export interface DesktopPaths {
  readonly host: string
  readonly preload: string
  /** The folder of the built screens. */
  readonly screens: string
}

export interface DesktopOptions {
  readonly electron: ElectronApi
  readonly paths: DesktopPaths
  /** The command line without the program's own words. */
  readonly words: readonly string[]
  readonly folder: string
  readonly platform: NodeJS.Platform
  readonly after?: (ms: number, call: () => void) => void
}

type ShowWord = Extract<FromHost, { type: 'show' }>

/** How long lamps may take to go dark and ports to close when the app ends. */
const QUIT_MS = 4_000
const FILTERS = [{ name: 'Lanthorn show', extensions: ['json'] }]

/** The main process: one window, one host, and what the system has to say to either. It plays nothing and decides nothing about music. */
export class Desktop {
  readonly #electron: ElectronApi
  readonly #options: DesktopOptions
  readonly #awake: KeepAwake
  readonly #host: HostChild
  #window: UsedWindow | undefined
  #show: ShowWord | undefined
  /** Path of the show that is open, for a host that has to be started again. */
  #path: string | undefined
  #isLoaded = false
  #recent: readonly string[] = []
  #isEnding = false
  #isAsking = false

  constructor(options: DesktopOptions) {
    const { electron, paths } = options
    this.#options = options
    this.#electron = electron
    this.#awake = new KeepAwake(electron)
    this.#host = new HostChild({
      electron,
      path: paths.host,
      state: electron.app.getPath('userData'),
      heard: (message) => this.#hear(message),
      started: (again) => this.#hostStarted(again),
      ...(options.after ? { after: options.after } : {}),
    })
  }

  /** Before anything is opened: another Lanthorn that runs gets our files, and we end. Answers whether we are the first. */
  start(): boolean {
    const { app } = this.#electron
    const { words, folder } = this.#options
    const shows = showsInArguments(words, folder)
    if (!app.requestSingleInstanceLock({ shows })) {
      app.quit()
      return false
    }
    app.enableSandbox()
    registerScheme(this.#electron)
    app.on('second-instance', (_event, _words, _folder, data) => this.#handedOver(data))
    app.on('open-file', (event, path) => {
      event.preventDefault()
      this.#open(path)
    })
    app.on('window-all-closed', () => app.quit())
    app.on('before-quit', (event) => this.#quit(event))
    this.#path = shows[0]
    void app.whenReady().then(() => this.#ready())
    return true
  }

  #ready(): void {
    const { electron, paths } = { electron: this.#electron, paths: this.#options.paths }
    fenceSession(electron)
    serveScreens(electron, paths.screens)
    this.#listen()
    electron.powerMonitor.on('suspend', () => this.#host.send({ type: 'sleep' }))
    electron.powerMonitor.on('resume', () => this.#host.send({ type: 'awake' }))
    electron.powerMonitor.on('shutdown', (event?: { preventDefault(): void }) => {
      // The system waits a little for us; there is no time to ask.
      event?.preventDefault()
      this.#end()
    })
    this.#drawMenu()
    this.#host.start()
    this.#openWindow()
  }

  #openWindow(): void {
    const window = openWindow(this.#electron, this.#options.paths.preload)
    this.#window = window
    window.on('close', (event) => {
      if (this.#isEnding) return
      event.preventDefault()
      this.#electron.app.quit()
    })
    window.on('closed', () => {
      this.#window = undefined
    })
  }

  /** Real lamps may be lit, or work be lost. */
  #mustAsk(): boolean {
    return this.#show !== undefined && (!this.#show.isSaved || this.#show.rig === 'real')
  }

  async #askToEnd(): Promise<void> {
    if (this.#isAsking) return
    this.#isAsking = true
    const unsaved =
      this.#show && !this.#show.isSaved
        ? ' What was changed and not saved is kept, and offered at the next start.'
        : ''
    const { response } = await this.#electron.dialog.showMessageBox({
      type: 'question',
      message: 'End Lanthorn?',
      detail: `All lamps go dark and nobody is heard any more.${unsaved}`,
      buttons: ['Go on playing', 'End'],
      defaultId: 0,
      cancelId: 0,
    })
    this.#isAsking = false
    if (response === 1) this.#end()
  }

  /** However the app is asked to end, it comes through here. */
  #quit(event: { preventDefault(): void }): void {
    if (this.#isEnding) return
    event.preventDefault()
    if (this.#mustAsk()) void this.#askToEnd()
    else this.#end()
  }

  /** Lamps dark, ports closed, then the app. */
  #end(): void {
    if (this.#isEnding) return
    this.#isEnding = true
    void this.#host.quit(QUIT_MS).then(() => {
      this.#awake.set(false)
      this.#electron.app.exit(0)
    })
  }

  // From the window.

  #listen(): void {
    const { ipcMain } = this.#electron
    const heard = (channel: string, call: (payload: unknown) => void): void => {
      ipcMain.on(channel, (event: IpcMainEvent, payload: unknown) => {
        if (this.#isOurWindow(event)) call(payload)
      })
    }
    heard(CHANNELS.connect, () => this.#connect())
    heard(CHANNELS.openDialog, () => void this.#openDialog())
    heard(CHANNELS.saveDialog, () => void this.#saveDialog())
    heard(CHANNELS.openDropped, (payload) => {
      if (isPath(payload)) this.#open(payload)
    })
  }

  /** Only the top frame of our window, and only while it shows our page. */
  #isOurWindow({ sender, senderFrame }: IpcMainEvent): boolean {
    return (
      this.#window !== undefined &&
      sender.id === this.#window.webContents.id &&
      senderFrame !== null &&
      senderFrame.parent === null &&
      isOurs(senderFrame.url)
    )
  }

  #connect(): void {
    if (!this.#window) return
    const { port1, port2 } = new this.#electron.MessageChannelMain()
    this.#host.attach(port2)
    this.#window.webContents.postMessage(CHANNELS.port, null, [port1])
  }

  async #openDialog(): Promise<void> {
    const { canceled, filePaths } = await this.#electron.dialog.showOpenDialog({
      title: 'Open a show',
      filters: FILTERS,
      properties: ['openFile'],
    })
    const [path] = filePaths
    if (!canceled && path !== undefined) this.#open(path)
  }

  async #saveDialog(): Promise<void> {
    const { canceled, filePath } = await this.#electron.dialog.showSaveDialog({
      title: 'Save the show',
      filters: FILTERS,
      defaultPath: this.#path ?? 'show.json',
    })
    if (!canceled && filePath !== '') this.#host.send({ type: 'save', path: filePath })
  }

  #open(path: string): void {
    // Until a show is open; from then on the host says which one it is.
    if (this.#show === undefined) this.#path = path
    this.#host.send({ type: 'open-file', path })
  }

  #handedOver(data: unknown): void {
    const window = this.#window
    if (window) {
      if (window.isMinimized()) window.restore()
      window.focus()
    }
    const shows: unknown = typeof data === 'object' && data !== null && 'shows' in data ? data.shows : []
    const [path] = Array.isArray(shows) ? (shows as unknown[]) : []
    if (isPath(path)) this.#open(path)
  }

  // From the host.

  #hostStarted(again: boolean): void {
    this.#isLoaded = false
    this.#host.send({ type: 'begin', ...(this.#path === undefined ? {} : { path: this.#path }) })
    if (again) this.#connect()
  }

  #hear(message: FromHost): void {
    switch (message.type) {
      case 'show':
        return this.#shown(message)
      case 'loaded':
        this.#isLoaded = true
        return this.#power()
      case 'stopped':
      case 'load-failed':
        this.#isLoaded = false
        return this.#power()
      case 'recent':
        this.#recent = message.files
        return this.#drawMenu()
      default:
        return
    }
  }

  #shown(message: ShowWord): void {
    if (message.file !== null && message.file !== this.#show?.file) {
      this.#electron.app.addRecentDocument(message.file)
    }
    this.#show = message
    this.#path = message.file ?? undefined
    const name = message.file === null ? message.show.title : basename(message.file)
    this.#window?.setTitle(`${message.isSaved ? '' : '* '}${name} - Lanthorn`)
    this.#window?.setDocumentEdited(!message.isSaved)
    this.#window?.setRepresentedFilename(message.file ?? '')
    this.#power()
  }

  #power(): void {
    this.#awake.set(this.#isLoaded && this.#show !== undefined && !this.#show.isDemo)
  }

  #drawMenu(): void {
    const { Menu } = this.#electron
    const template = menuTemplate(
      {
        command: (command) => this.#window?.webContents.send(CHANNELS.menu, command),
        dark: () => this.#host.send({ type: 'dark-all' }),
        openFile: (path) => this.#open(path),
        openDemo: () => this.#host.send({ type: 'open-demo' }),
        reload: () => this.#window?.webContents.reload(),
      },
      this.#recent,
      this.#options.platform,
    )
    Menu.setApplicationMenu(Menu.buildFromTemplate(template))
  }
}
