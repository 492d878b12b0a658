import { resolve } from 'node:path'
import type { FromEngine } from '../../../src/contract/from-engine.ts'
import type { FromHost } from '../../../src/contract/from-host.ts'
import { readMessage } from '../../../src/contract/read-message.ts'
import type { EngineAsk } from '../../../src/contract/to-engine.ts'
import type { ToHost } from '../../../src/contract/to-host.ts'
import { toHost } from '../../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import { CAUTIONS } from '../../../src/domain/cautions.ts'
import { songSheet } from '../../../src/offline/song-sheet.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import type { Channel } from '../channel.ts'
import type { EngineProcess, SupervisorTimers } from '../supervisor.ts'
import { MACHINE_TIMERS, Supervisor } from '../supervisor.ts'
import { EngineWords } from './engine-words.ts'
import type { Entry, RemoteDoor } from './entry.ts'
import { lockRefusal } from './gig-lock.ts'
import { refusal } from './rights.ts'
import { scaleReadWord, scalesWords, scaleWrittenWord } from './scale-words.ts'
import { Screen } from './screen.ts'
import { Screens } from './screens.ts'
import type { Standing } from './settings.ts'
import { Settings } from './settings.ts'
import type { ShowKeeperOptions, SongPlace, Trouble } from './show-keeper.ts'
import { ShowKeeper } from './show-keeper.ts'
import { checksWord, showWord, tuningWord } from './show-words.ts'
import { strategyForms } from './strategy-forms.ts'
import { TakeChecks } from './take-checks.ts'
import { countingWord, takeChecksWord, venueWord } from './take-words.ts'
import { today } from './today.ts'
import { UnsavedWork } from './unsaved/unsaved-work.ts'

export interface HostOptions {
  readonly spawn: () => EngineProcess
  /** Where settings and unsaved work are kept from one start to the next. */
  readonly stateFolder: string
  readonly demo: ShowKeeperOptions['demo']
  /** The folder of the scales that come with the house. */
  readonly scales: string
  /** What the person wants for shows that are opened. */
  readonly rig?: ShowKeeperOptions['rig']
  /** The desktop asks for the end. */
  readonly quit?: () => void
  readonly timers?: SupervisorTimers
}

/** What is to be open at the start. */
export interface Beginning {
  /** The show that was named; left out: none was. */
  readonly show?: string | undefined
  /** Where none was named, the one that was open last, else the demo; left out: the demo. */
  readonly orLast?: boolean
}

const v = CONTRACT_VERSION
const NO_SHOW = 'no show is open'
/** How long the disk is waited for at the end. */
const FILES_MS = 3_000

/** Keeps the engine running and the show in hand, and stands between both and the screens: what one of them asks is done, and what comes of it all are told. */
export class Host {
  readonly #supervisor: Supervisor
  readonly #settings: Settings
  readonly #work: UnsavedWork
  readonly #keeper: ShowKeeper
  readonly #timers: SupervisorTimers
  readonly #quit: () => void
  readonly #scales: string
  readonly #screens = new Screens()
  readonly #takes = new TakeChecks()
  readonly #words = new EngineWords()
  readonly #forms = strategyForms(strategies)
  #remote: FromHost | undefined
  /** The last of whether unsaved work is on the disk; undefined: nothing was unsaved yet. */
  #kept: FromHost | undefined
  #isLocked: boolean
  /** Where the band is, as it was last remembered. */
  #standing: Standing | undefined
  #hasBegun = false
  #refused = 0
  /** Whether the engine has been asked for `monitor`. */
  #isWatching = false

  constructor({
    spawn,
    stateFolder,
    demo,
    scales,
    rig,
    quit = () => {},
    timers = MACHINE_TIMERS,
  }: HostOptions) {
    this.#timers = timers
    this.#quit = quit
    this.#scales = scales
    this.#supervisor = new Supervisor({ spawn, say: (message) => this.#heard(message), timers })
    this.#settings = new Settings(stateFolder, (message) => this.#note('warning', 'settings', message))
    this.#work = new UnsavedWork({
      stateFolder,
      timers,
      kept: (revision, trouble) => this.#tellKept(revision, trouble),
      found: () => this.#tellFiles(() => this.#recoveriesWord()),
      note: (message) => this.#note('warning', 'unsaved work', message),
    })
    this.#keeper = new ShowKeeper({
      supervisor: this.#supervisor,
      settings: this.#settings,
      work: this.#work,
      demo,
      ...(rig === undefined ? {} : { rig }),
      timers,
      playing: () => this.#words.playing,
      changed: () => {
        this.#takes.isAbout(this.#keeper.counted)
        this.#remember()
        this.#tellShow()
      },
      fileChanged: (message) => this.#screens.tell(() => ({ v, type: 'file-changed', message })),
      note: (message) => this.#note('info', 'show', message),
    })
    const { gig } = this.#settings
    // Another Lanthorn on this machine plays that gig.
    this.#isLocked = gig !== null && !this.#work.isAliveElsewhere(gig.owner)
    this.#keeper.hold(this.#isLocked)
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

  /**
   * Opens what is to be open at the start, once. While the gig lock is on that is the show that it holds, where the band was in it, whatever was named. A
   * show that cannot be opened is told and left alone, and the demo is open in its place. Resolves to what a person should be told, undefined: nothing.
   */
  async begin({ show, orLast = false }: Beginning = {}): Promise<Trouble> {
    if (this.#hasBegun) return undefined
    this.#hasBegun = true
    const { gig, open, recent } = this.#settings
    await this.#work.begin()
    if (this.#isLocked && gig) {
      if (await this.#keeper.goBack(gig)) return this.#heldBack(show, gig.file)
      this.#setLock(false)
      this.#notOpened('The show that the gig lock held cannot be had any more; the lock is off.')
    }
    const lost = open !== null && !this.#work.isAliveElsewhere(open.owner) ? open : undefined
    const last = lost ? (lost.file ?? undefined) : recent[0]
    const path = show === undefined ? (orLast ? last : undefined) : resolve(show)
    if (path !== undefined) {
      // It was not closed: the band goes on where it was.
      const { song = null, position = null } = path === lost?.file ? lost : {}
      const trouble = await this.openFile(path, song === null ? undefined : { song, position })
      if (trouble === undefined) return undefined
      const told = `${trouble}\nThe demo is open in its place.`
      this.#notOpened(told)
      return (await this.openDemo()) ?? told
    }
    // A show that never had a file, and was not closed: there is no other place to go back to.
    if (orLast && lost?.file === null && (await this.#keeper.goBack(lost))) return undefined
    return this.openDemo()
  }

  /** Resolves to why the file could not be opened, undefined where it was; the show that was open stays then. */
  async openFile(path: string, from?: SongPlace): Promise<Trouble> {
    await this.#work.begin()
    const trouble = await this.#keeper.openFile(path, from)
    if (trouble === undefined) this.#tellFiles(() => this.#recentWord())
    return trouble
  }

  async openDemo(): Promise<Trouble> {
    await this.#work.begin()
    return this.#keeper.openDemo()
  }

  /** Every lamp dark, the engine ended, files written. Resolves to whether all of the engine's part was done. */
  async stop(): Promise<boolean> {
    const files = this.#closeFiles()
    // A disk that does not answer, as over a network, must not keep anybody from ending.
    let waited = (): void => {}
    const enough = new Promise<void>((resolve) => (waited = this.#timers.after(FILES_MS, resolve)))
    const [clean] = await Promise.all([this.#supervisor.stop(), Promise.race([files, enough])])
    waited()
    return clean
  }

  async #closeFiles(): Promise<void> {
    this.#takes.isAbout(undefined)
    await this.#keeper.close()
    if (!this.#isLocked) this.#settings.stands(null)
    await this.#settings.written()
    await this.#work.end()
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
    const held = this.#isLocked ? lockRefusal(message, screen.entry.place) : undefined
    if (held !== undefined) return this.#holdBack(screen, message, held)
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
      case 'tempo':
      case 'tap':
      case 'beats':
      case 'tune':
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
        return this.#tried(screen, 'open', this.openDemo())
      case 'open-file':
        return this.#tried(screen, 'open', this.openFile(message.path))
      case 'open-text':
        return this.#tried(screen, 'open', keeper.openText(message.name, message.text))
      case 'save':
        // The desktop's own dialog has asked; a browser has none that could.
        return this.#saved(screen, keeper.save(message.path, screen.entry.place === 'window'))
      case 'file-changed':
        if (message.do === 'write-over') return this.#saved(screen, keeper.writeOver())
        return this.#tried(screen, 'read again', keeper.readAgain())
      case 'recovery': {
        const doing = message.do === 'open' ? keeper.recover(message.id) : keeper.drop(message.id)
        return this.#tried(screen, 'recovery', doing)
      }
      case 'lock':
        return this.#lock(screen, message.locked)
      case 'begin':
        return void this.begin({ show: message.path, orLast: true })
      case 'ask-sheet':
        return this.#tellSheet(screen)
      case 'rig': {
        const why = keeper.setRig(message.rig)
        return why === undefined ? undefined : this.#refuse(screen, why)
      }
      case 'ask-tuning': {
        const word = tuningWord(keeper, message.song, message.part)
        const why = 'the show has no such part; it was changed meanwhile'
        return screen.tell(word ?? { v, type: 'failed', what: 'tuning', message: why })
      }
      case 'read-scale':
        return screen.tell(scaleReadWord(message))
      case 'ask-scales':
        return void scalesWords(this.#scales).then((words) => words.forEach((word) => screen.tell(word)))
      case 'write-scale':
        return screen.tell(scaleWrittenWord(keeper.document?.show, message.tuning))
      case 'ask-checks':
        return screen.tell(checksWord(keeper) ?? { v, type: 'failed', what: 'checks', message: NO_SHOW })
      case 'ask-take-checks':
        return void this.#tellTakes(screen)
      case 'ask-venue':
        return void this.#tellVenue(screen, message.date ?? today())
      case 'cautions-read':
        this.#settings.cautionsRead()
        return this.#screens.tell((other) => this.#welcomeWord(other))
      case 'quit':
        return this.#quit()
      default:
        // Whoever adds a message is told where it is forgotten.
        message satisfies never
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

  #saved(screen: Screen, saving: ReturnType<ShowKeeper['save']>): void {
    void saving.then((saved) => {
      if ('why' in saved) return screen.tell({ v, type: 'failed', what: 'save', message: saved.why })
      screen.tell({ v, type: 'saved', file: saved.file })
      this.#tellFiles(() => this.#recentWord())
    })
  }

  #lock(screen: Screen, isLocked: boolean): void {
    if (!this.#keeper.document)
      return screen.tell({ v, type: 'failed', what: 'lock', message: 'no show is open yet' })
    if (isLocked === this.#isLocked) return
    this.#setLock(isLocked)
    this.#tellShow()
    if (!isLocked) return
    this.#screens.learnNoMore()
    this.#supervisor.send({ v, type: 'learn-end' })
    this.#supervisor.send({ v, type: 'find-lamp', lamp: null })
  }

  #setLock(isLocked: boolean): void {
    this.#isLocked = isLocked
    this.#keeper.hold(isLocked)
    const { standing } = this.#keeper
    // An engine that is just being started again says nothing of a song yet.
    const { song = null, position = null } = this.#standing ?? {}
    const gig = standing?.song === null ? { ...standing, song, position } : standing
    this.#settings.locked(isLocked ? gig : null)
  }

  /** Words for somebody who named a show while the lock holds another. */
  #heldBack(asked: string | undefined, file: string | null): Trouble {
    if (asked === undefined || resolve(asked) === file) return undefined
    const told = `The gig lock is on and holds ${file ?? 'another show'}: ${asked} was not opened. Take the lock off first.`
    this.#notOpened(told)
    return told
  }

  /** A form that sent an edit waits for an answer to it. */
  #holdBack(screen: Screen, message: ToHost, why: string): void {
    if (message.type !== 'edit') return this.#refuse(screen, why)
    this.#refused += 1
    screen.tell({ v, type: 'edit-refused', label: message.label, faults: [{ path: '$', message: why }] })
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
    const show = showWord(this.#keeper, place, this.#isLocked)
    if (show) {
      screen.tell(show)
      screen.tell({ v, type: 'file-changed', message: this.#keeper.fileChange })
    }
    if (this.#kept) screen.tell(this.#kept)
    for (const word of this.#words.stand(this.#keeper.document?.show)) screen.tell(word)
    if (screen.mayFiles) {
      screen.tell(this.#recentWord())
      screen.tell(this.#recoveriesWord())
    }
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

  #recoveriesWord(): FromHost {
    return { v, type: 'recoveries', found: this.#work.found.map((one) => ({ ...one })) }
  }

  #tellShow(): void {
    this.#screens.tell(({ entry }) => showWord(this.#keeper, entry.place, this.#isLocked))
  }

  #tellSheet(screen: Screen): void {
    const show = this.#keeper.document?.show
    if (!show) return screen.tell({ v, type: 'failed', what: 'sheet', message: NO_SHOW })
    screen.tell({ v, type: 'sheet', name: show.title, html: songSheet(show) })
  }

  /** Whoever asked before the show changed asks anew. */
  async #tellTakes(screen: Screen): Promise<void> {
    const counted = this.#keeper.counted
    if (!counted) return screen.tell({ v, type: 'failed', what: 'take-checks', message: NO_SHOW })
    const { revision, show } = counted
    const gig = await this.#takes.count(counted, (done, of) => screen.tell(countingWord(revision, done, of)))
    if (gig) screen.tell(takeChecksWord(revision, show, gig))
  }

  async #tellVenue(screen: Screen, date: string): Promise<void> {
    const counted = this.#keeper.counted
    if (!counted) return screen.tell({ v, type: 'failed', what: 'venue', message: NO_SHOW })
    const gig = await this.#takes.last(counted)
    const why = 'the show was changed while its takes were counted; ask again'
    screen.tell(gig ? venueWord(counted.show, gig, date) : { v, type: 'failed', what: 'venue', message: why })
  }

  /** Only to those who may touch files. */
  #tellFiles(word: () => FromHost): void {
    this.#screens.tell((screen) => (screen.mayFiles ? word() : undefined))
  }

  #tellKept(revision: number | null, trouble: string | null): void {
    const before = this.#kept?.type === 'kept' ? this.#kept.message : null
    this.#kept = { v, type: 'kept', revision, message: trouble }
    const word = this.#kept
    this.#screens.tell(() => word)
    if (trouble !== null && before === null) this.#note('warning', 'unsaved work', trouble)
    if (trouble === null && before !== null)
      this.#note('info', 'unsaved work', 'What is changed is kept again.')
  }

  #notOpened(message: string): void {
    this.#note('fault', 'show', message, 'not-opened')
  }

  #note(level: 'info' | 'warning' | 'fault', source: string, message: string, code = 'host'): void {
    this.#heard({ v, type: 'diagnostic', at: 0, diagnostic: { level, source, code, message } })
  }

  // From the engine.

  #heard(message: FromEngine): void {
    this.#words.hear(message)
    // A new engine does not know that somebody is learning; what else it must know it is told by the supervisor.
    if (message.type === 'hello' && this.#screens.areLearning) this.#supervisor.send({ v, type: 'learn' })
    if (message.type === 'loaded' || message.type === 'song') this.#remember()
    this.#screens.tell((screen) => (message.type === 'monitor' && !screen.wantsMonitor ? undefined : message))
  }

  /** Where the band is, for a start after a crash. Until the engine says so, what was remembered holds. */
  #remember(): void {
    const { standing } = this.#keeper
    if (!standing || standing.song === null || JSON.stringify(standing) === JSON.stringify(this.#standing))
      return
    this.#standing = standing
    this.#settings.stands(standing)
    if (this.#isLocked) this.#settings.locked(standing)
  }
}
