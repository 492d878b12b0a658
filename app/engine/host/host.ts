import type { FromEngine } from '../../../src/contract/from-engine.ts'
import type { FromHost } from '../../../src/contract/from-host.ts'
import { readMessage } from '../../../src/contract/read-message.ts'
import type { EngineAsk } from '../../../src/contract/to-engine.ts'
import type { ToHost } from '../../../src/contract/to-host.ts'
import { toHost } from '../../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import { CAUTIONS } from '../../../src/domain/cautions.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import type { Channel } from '../channel.ts'
import type { EngineProcess, SupervisorTimers } from '../supervisor.ts'
import { MACHINE_TIMERS, Supervisor } from '../supervisor.ts'
import { EngineWords } from './engine-words.ts'
import type { Entry, RemoteDoor } from './entry.ts'
import { refusal } from './rights.ts'
import { Screen } from './screen.ts'
import { Screens } from './screens.ts'
import { Settings } from './settings.ts'
import type { ShowKeeperOptions, Trouble } from './show-keeper.ts'
import { ShowKeeper } from './show-keeper.ts'
import { checksWord, showWord, tuningWord } from './show-words.ts'
import { strategyForms } from './strategy-forms.ts'

export interface HostOptions {
  readonly spawn: () => EngineProcess
  /** Where settings are kept from one start to the next. */
  readonly stateFolder: string
  readonly demo: ShowKeeperOptions['demo']
  /** What the person wants for shows that are opened. */
  readonly rig?: ShowKeeperOptions['rig']
  /** The desktop asks for the end. */
  readonly quit?: () => void
  readonly timers?: SupervisorTimers
}

const v = CONTRACT_VERSION
/** How long the disk is waited for at the end. */
const FILES_MS = 3_000

/** Keeps the engine running and the show in hand, and stands between both and the screens: what one of them asks is done, and what comes of it all are told. */
export class Host {
  readonly #supervisor: Supervisor
  readonly #settings: Settings
  readonly #keeper: ShowKeeper
  readonly #timers: SupervisorTimers
  readonly #quit: () => void
  readonly #screens = new Screens()
  readonly #words = new EngineWords()
  readonly #forms = strategyForms(strategies)
  #remote: FromHost | undefined
  #refused = 0
  /** Whether the engine has been asked for `monitor`. */
  #isWatching = false

  constructor({ spawn, stateFolder, demo, rig, quit = () => {}, timers = MACHINE_TIMERS }: HostOptions) {
    this.#timers = timers
    this.#quit = quit
    this.#supervisor = new Supervisor({ spawn, say: (message) => this.#heard(message), timers })
    this.#settings = new Settings(stateFolder, (message) => this.#note('warning', 'settings', message))
    this.#keeper = new ShowKeeper({
      supervisor: this.#supervisor,
      settings: this.#settings,
      demo,
      ...(rig === undefined ? {} : { rig }),
      now: () => timers.now(),
      playing: () => this.#words.playing,
      changed: () => this.#screens.tell(({ entry }) => showWord(this.#keeper, entry.place)),
      note: (message) => this.#note('info', 'show', message),
    })
  }

  /** What was refused to screens, and what slow ones were not sent. */
  get counts(): { readonly refused: number; readonly skipped: number } {
    return { refused: this.#refused, skipped: this.#screens.skipped }
  }

  /**
   * A screen that has been let in. One in a window is told how things stand when it says `enter`, one that came through a door of its own at once, since the
   * door has taken its `enter`.
   */
  attach(channel: Channel, entry: Entry): void {
    const screen = new Screen(channel, entry, this.#timers)
    this.#screens.add(screen)
    channel.receive((raw) => this.#receive(screen, raw))
    channel.closed(() => this.#left(screen))
    if (entry.place !== 'window') this.#welcome(screen)
  }

  /** Where other devices find us, or that more of them are here. */
  setRemote(door: RemoteDoor): void {
    const { addresses, code, screens, refused } = door
    const word: FromHost = { v, type: 'remote', addresses: [...addresses], code, screens, refused }
    this.#remote = word
    this.#screens.tell(({ entry }) => (entry.place === 'remote' ? undefined : word))
  }

  /** Resolves to why the file could not be opened, undefined where it was; the show that was open stays then. */
  async openFile(path: string): Promise<Trouble> {
    const trouble = await this.#keeper.openFile(path)
    if (trouble === undefined) this.#tellRecent()
    return trouble
  }

  openDemo(): Promise<Trouble> {
    return this.#keeper.openDemo()
  }

  /** Every lamp dark, the engine ended, files written. Resolves to whether all of the engine's part was done. */
  async stop(): Promise<boolean> {
    const files = this.#keeper.settled().then(() => this.#settings.written())
    // A disk that does not answer, as over a network, must not keep anybody from ending.
    let waited = (): void => {}
    const enough = new Promise<void>((resolve) => (waited = this.#timers.after(FILES_MS, resolve)))
    const [clean] = await Promise.all([this.#supervisor.stop(), Promise.race([files, enough])])
    waited()
    return clean
  }

  // From screens.

  #receive(screen: Screen, raw: unknown): void {
    const read = readMessage(toHost, raw)
    if (!read.ok) {
      if (screen.isIn) screen.tell({ v, type: 'not-understood', message: read.why })
      return
    }
    const { message } = read
    if (message.type === 'enter') return this.#welcome(screen)
    if (!screen.isIn) return
    const why = refusal(message.type, screen.entry.place)
    if (why !== undefined) return this.#refuse(screen, why)
    try {
      this.#obey(screen, message)
    } catch (error) {
      // A fault in the host must not take the engine's keeper with it.
      const words = error instanceof Error ? error.message : String(error)
      screen.tell({ v, type: 'failed', what: message.type, message: words })
    }
  }

  #obey(screen: Screen, message: Exclude<ToHost, { type: 'enter' }>): void {
    const keeper = this.#keeper
    switch (message.type) {
      case 'song':
      case 'go':
      case 'variant':
      case 'stay':
      case 'dark-all':
      case 'choose-port':
      case 'listen-again':
      case 'list-ports':
      case 'find-lamp':
        return this.#ask(screen, message)
      case 'sleep':
      case 'awake':
        return this.#supervisor.send(message)
      case 'learn':
        screen.isLearning = true
        return this.#ask(screen, message)
      case 'learn-end':
        return this.#learned(screen)
      case 'watch':
        screen.wantsMonitor = message.monitor
        return this.#watch()
      case 'edit': {
        const faults = keeper.edit(message)
        if (faults.length === 0) return
        const { label } = message
        return screen.tell({ v, type: 'edit-refused', label, faults: [...faults] })
      }
      case 'undo':
        return keeper.undo()
      case 'redo':
        return keeper.redo()
      case 'new-show':
        return this.#tried(screen, 'new show', keeper.newShow(message.answers))
      case 'open-demo':
        return this.#tried(screen, 'open', keeper.openDemo())
      case 'open-file':
        return this.#tried(screen, 'open', this.openFile(message.path))
      case 'open-text':
        return this.#tried(screen, 'open', keeper.openText(message.name, message.text))
      case 'save':
        return this.#save(screen, message.path)
      case 'rig': {
        const why = keeper.setRig(message.rig)
        return why === undefined ? undefined : this.#refuse(screen, why)
      }
      case 'ask-tuning': {
        const word = tuningWord(keeper, message.song, message.part)
        const why = 'the show has no such part; it was changed meanwhile'
        return screen.tell(word ?? { v, type: 'failed', what: 'tuning', message: why })
      }
      case 'ask-checks':
        return screen.tell(
          checksWord(keeper) ?? { v, type: 'failed', what: 'checks', message: 'no show is open' },
        )
      case 'cautions-read':
        this.#settings.cautionsRead()
        return this.#screens.tell((other) => this.#welcomeWord(other))
      case 'quit':
        return this.#quit()
      default:
        return screen.tell({ v, type: 'failed', what: message.type, message: 'this host cannot do that' })
    }
  }

  #ask(screen: Screen, message: EngineAsk): void {
    // The engine runs from the first show on.
    if (this.#keeper.document) this.#supervisor.send(message)
    else screen.tell({ v, type: 'failed', what: message.type, message: 'no show is open yet' })
  }

  #left(screen: Screen): void {
    this.#screens.remove(screen)
    this.#learned(screen)
    screen.wantsMonitor = false
    this.#watch()
  }

  /** It learns no more; the engine goes on while another screen does. */
  #learned(screen: Screen): void {
    if (!screen.isLearning) return
    screen.isLearning = false
    if (!this.#screens.areLearning) this.#supervisor.send({ v, type: 'learn-end' })
  }

  #watch(): void {
    const monitor = this.#screens.wantMonitor
    if (monitor === this.#isWatching) return
    this.#isWatching = monitor
    this.#supervisor.send({ v, type: 'watch', monitor })
  }

  #save(screen: Screen, path: string | undefined): void {
    // The desktop's own dialog has asked; a browser has none that could.
    const saving = this.#keeper.save(path, screen.entry.place === 'window')
    void saving.then((saved) => {
      if ('why' in saved) return screen.tell({ v, type: 'failed', what: 'save', message: saved.why })
      screen.tell({ v, type: 'saved', file: saved.file })
      this.#tellRecent()
    })
  }

  #tried(screen: Screen, what: string, doing: Promise<Trouble>): void {
    void doing.then((trouble) => {
      if (trouble !== undefined) screen.tell({ v, type: 'failed', what, message: trouble })
    })
  }

  #refuse(screen: Screen, message: string): void {
    this.#refused += 1
    screen.tell({ v, type: 'refused', message })
  }

  // To screens.

  #welcome(screen: Screen): void {
    screen.isIn = true
    const { place } = screen.entry
    screen.tell(this.#welcomeWord(screen))
    const show = showWord(this.#keeper, place)
    if (show) screen.tell(show)
    for (const word of this.#words.stand(this.#keeper.document?.show)) screen.tell(word)
    if (screen.mayFiles) screen.tell(this.#recentWord())
    if (this.#remote && place !== 'remote') screen.tell(this.#remote)
  }

  #welcomeWord({ entry, mayFiles }: Screen): FromHost {
    return {
      v,
      type: 'welcome',
      key: entry.key,
      place: entry.place,
      mayFiles,
      strategies: this.#forms,
      cautions: [...CAUTIONS],
      areCautionsRead: this.#settings.areCautionsRead,
    }
  }

  #recentWord(): FromHost {
    return { v, type: 'recent', files: [...this.#settings.recent] }
  }

  #tellRecent(): void {
    this.#screens.tell((screen) => (screen.mayFiles ? this.#recentWord() : undefined))
  }

  #note(level: 'info' | 'warning', source: string, message: string): void {
    this.#heard({ v, type: 'diagnostic', at: 0, diagnostic: { level, source, code: 'host', message } })
  }

  // From the engine.

  #heard(message: FromEngine): void {
    this.#words.hear(message)
    // A new engine does not know that somebody is learning; what else it must know it is told by the supervisor.
    if (message.type === 'hello' && this.#screens.areLearning) this.#supervisor.send({ v, type: 'learn' })
    this.#screens.tell((screen) => (message.type === 'monitor' && !screen.wantsMonitor ? undefined : message))
  }
}
