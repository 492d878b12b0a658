import type { FromEngine } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { LampId, OutputId, PartId, PlayerId, TuningId } from '../../src/domain/ids.ts'
import type { LampChange } from '../../src/domain/lamp-state.ts'
import type { TimerSpec } from '../../src/domain/rig.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import { Graph } from '../../src/graph/graph.ts'
import { isSameHouse } from '../../src/graph/same-show.ts'
import type { Place } from '../../src/graph/set-list.ts'
import type { SongAsk } from '../../src/graph/switching.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { Account } from './account.ts'
import { GuardAccount } from './guard-account.ts'
import { lampStatus } from './lamp-status.ts'
import { LoopGuard } from './loop-guard.ts'
import type { Machine } from './machine.ts'
import type { Monitor } from './monitor.ts'
import { PlayerActivities } from './player-activity.ts'
import { PortChoices } from './port-choices.ts'
import { Readiness } from './readiness.ts'
import { SessionInputs } from './session-inputs.ts'
import { SessionOutputs } from './session-outputs.ts'
import { SongClock } from './song-clock.ts'
import type { SongTimeIn } from '../../src/time/song-time.ts'
import { clockMessages } from '../../src/midi/clock-messages.ts'
import { StepWatch } from './step-watch.ts'
import { TimeWatch } from './time-watch.ts'
import { every, Teller } from './teller.ts'

export interface SessionOptions {
  readonly show: Show
  readonly place: Place
  /** An engine before this one may have left lamps lit. */
  readonly recover: boolean
  readonly machine: Machine
  readonly say: (message: FromEngine) => void
  /** Answers to which port is whose, by player or output: they count where it is asked first. */
  readonly choices?: ReadonlyMap<string, number>
  readonly monitor?: Monitor
  /** What was played, and on which port, as the show calls it. */
  readonly overheard?: (port: string, bytes: Uint8Array) => void
}

/** A machine that was away for longer slept: what was due meanwhile is not made up for. */
const SLEPT: Micros = 2_000_000
/** How often the session looks whether it was away, also where nothing is due: a chord that is held must not come back by itself. */
const LOOKS_EVERY: Micros = 500_000
/** A machine that was to sleep and is played on after this long does not sleep, and nobody said so. */
const ASLEEP: Micros = 5_000_000
/** How long MIDI waits at most for the lamp boxes to answer. */
const BOXES_FIRST: Micros = 300_000
/** What was said before leaves within this time, also where MIDI then holds us up. */
const MESSAGES_FIRST: Micros = 5_000
/** Just under thirty, and fifteen, a second. */
const LAMPS_EVERY: Micros = 33_400
const PLAYERS_EVERY: Micros = 66_700
const FIGURES_EVERY: Micros = 1_000_000
const GUARDS_EVERY: Micros = 1_000_000

const NOTHING_COMES: FromEngine = {
  v: CONTRACT_VERSION,
  type: 'coming',
  song: null,
  position: null,
  enterAt: 'now',
}

/** One show being played: the graph, the ports it listens and speaks to, and the account of how it goes. */
export class Session {
  #show: Show
  readonly #machine: Machine
  readonly #teller: Teller
  #graph: Graph
  readonly #inputs: SessionInputs
  readonly #outputs: SessionOutputs
  readonly #clock: SongClock
  readonly #loops: LoopGuard
  readonly #account = new Account()
  readonly #activities: PlayerActivities
  readonly #steps = new StepWatch()
  #guards: GuardAccount
  /** A song began, of which nothing has been told yet. */
  #areGuardsNew = false
  readonly #timeWatch = new TimeWatch()
  /** Beats stand still since the machine slept. */
  #isStillBySleep = false
  readonly #monitor: Monitor | undefined
  /** What lamp boxes said of their timers. */
  readonly #timers = new Map<OutputId, TimerSpec>()
  readonly #readiness: Readiness
  /** What happened to songs while something was handled: told once that is done, since lamps go first. */
  #songWords: FromEngine[] = []
  #areLampsNew = true
  #claimsTold: readonly (PartId | undefined)[] = []
  #cancelMidi = (): void => {}
  #cancelTelling: (() => void)[] = []
  #due: Micros = Infinity
  /** When it looks next whether it was away. */
  #looksAt: Micros = Infinity
  /** When the packet came in that is being handled. */
  #heardAt: Micros | undefined
  #isFinding = false
  #asleepSince: Micros | undefined
  #isOver = false
  #stopped: Promise<boolean> | undefined

  constructor(options: SessionOptions) {
    const { show, place, recover, machine, say, choices: given, monitor, overheard } = options
    this.#show = show
    this.#monitor = monitor
    monitor?.follow(show)
    this.#machine = machine
    this.#teller = new Teller(
      say,
      () => machine.clock.now(),
      (what) => this.#account.count(what),
    )
    this.#readiness = new Readiness(machine.timers)
    this.#loops = new LoopGuard(process.pid & 0x3fff)
    this.#activities = new PlayerActivities(show.players)
    const teller = this.#teller
    const choices = new PortChoices(given)
    this.#inputs = new SessionInputs({
      players: show.players,
      machine,
      loops: this.#loops,
      teller,
      choices,
      monitor,
      overheard,
      clock: show.clock.follow,
      heardClock: (bytes, at) => this.#hearClock(bytes, at),
      clockGone: () => this.tellTime({ kind: 'gone' }),
      heard: (players, bytes, at) => this.#hear(players, bytes, at),
      silence: (players) => this.#silence(players),
      probe: (bytes) => this.#outputs.probe(bytes),
    })
    this.#clock = new SongClock({
      show,
      now: () => machine.clock.now(),
      send: (port, bytes) => this.#outputs.sendClock(port, bytes),
    })
    this.#outputs = new SessionOutputs({
      rig: show.rig,
      clockPorts: this.#clock.ports,
      clockPort: (port, isThere) => {
        this.#clock.port(port, isThere)
        this.#waitForDue()
      },
      machine,
      recover,
      teller,
      choices,
      greet: (output) => this.#guarded(() => this.#graph.reopen(output, this.#time())),
      setTimer: (output, timer) => this.#setTimer(output, timer),
      boxesReady: () => this.#startMidiIn(MESSAGES_FIRST),
    })
    this.#guards = new GuardAccount(show.rig, machine.clock.now())
    this.#graph = this.#makeGraph(place)
    this.#clock.begin(place.song, this.#graph.now)
  }

  get place(): Place {
    return this.#graph.place
  }

  start(): void {
    const { timers, clock } = this.#machine
    this.#graph.advance(Math.max(this.#graph.now, clock.now()))
    this.#outputs.startBoxes()
    // Opening MIDI may hold everything up for a second or two on a system in trouble; the lamp boxes go first.
    this.#startMidiIn(this.#outputs.hasBoxes ? BOXES_FIRST : MESSAGES_FIRST)
    this.#readiness.renew(this.#graph, this.#show)
    this.#cancelTelling = [
      every(timers, LOOKS_EVERY, () => this.#look()),
      every(timers, LAMPS_EVERY, () => this.#tellLamps()),
      every(timers, LAMPS_EVERY, () => this.#tellSteps()),
      every(timers, LAMPS_EVERY, () => this.#tellHowTimeGoes()),
      every(timers, PLAYERS_EVERY, () => this.#tellPlayers()),
      every(timers, FIGURES_EVERY, () => this.#tellFigures()),
      every(timers, GUARDS_EVERY, () => this.#tellGuards()),
    ]
  }

  /** Outputs first, so that lamps are there before somebody plays. */
  #startMidiIn(wait: Micros): void {
    const { timers } = this.#machine
    this.#cancelMidi()
    this.#cancelMidi = timers.at(timers.now() + wait, () => {
      this.#outputs.startMidi()
      this.#inputs.start()
    })
  }

  /** Asks for a song, which begins when it says; asked for once more, at once. Throws a RangeError for a song that the show has not. */
  ask(ask: SongAsk): void {
    if (ask.to === 'song' && !this.#show.songs.some(({ id }) => id === ask.song))
      throw new RangeError(`the show has no song "${ask.song}"`)
    this.#guarded(() => this.#graph.ask(ask, this.#time()))
  }

  /** The song goes on in another tuning; null: its own. Throws a RangeError for a tuning that the show has not. */
  tune(tuning: TuningId | null, retune: boolean): void {
    if (tuning !== null && !this.#show.tunings.some(({ id }) => id === tuning))
      throw new RangeError(`the show has no tuning "${tuning}"`)
    this.#guarded(() => this.#graph.tune(tuning, retune, this.#time()))
  }

  /** What was asked for and has not begun does not. */
  stay(): void {
    this.#guarded(() => this.#graph.stay(this.#time()))
  }

  /** The show edited; false where it has another rig or other players, which needs another session. Nothing is interrupted but a song that changed. */
  revise(show: Show): boolean {
    if (!isSameHouse(this.#show, show)) return false
    this.#show = show
    this.#clock.revise(show)
    this.#monitor?.follow(show)
    this.#guarded(() => {
      this.#graph.revise(show, this.#time())
      // Whoever asked for the edit says which song plays.
      this.#songWords = this.#songWords.filter(({ type }) => type !== 'song')
    })
    this.#readiness.renew(this.#graph, show)
    return true
  }

  /** Every output dark at once, by its own account, whatever the graph is doing; then the graph. */
  darkAll(): void {
    this.#outputs.darkNow()
    this.#guarded(() => this.#graph.darkAll(this.#time()))
    this.#teller.say({ v: CONTRACT_VERSION, type: 'dark' })
  }

  get isAsleep(): boolean {
    return this.#asleepSince !== undefined
  }

  /** The machine is about to sleep: dark, nothing that was due is made up for, and nobody is listened to. */
  sleep(): void {
    this.darkAll()
    this.#standStill()
    this.#machine.clock.stop()
    this.#due = Infinity
    this.#asleepSince = this.#machine.clock.now()
  }

  /** The machine is awake: dark, and ports are looked for at once. */
  awake(): void {
    this.#asleepSince = undefined
    this.#looksAt = this.#machine.clock.now() + LOOKS_EVERY
    this.darkAll()
    this.#guarded(() => this.#graph.advance(this.#time()))
    this.#outputs.lookAnew()
    this.#inputs.lookAnew()
    this.#goOn()
  }

  /** What becomes of the song's beats. */
  tellTime(event: SongTimeIn): void {
    this.#guarded(() => this.#graph.tellTime(event, this.#time()))
  }

  /** The machine sleeps, or has since that time. */
  #standStill(since?: Micros): void {
    this.#clock.sleep(since)
    this.#isStillBySleep = true
    this.tellTime({ kind: 'run', do: 'stop', ...(since === undefined ? {} : { since }) })
  }

  #goOn(): void {
    if (this.#show.clock.afterSleep === 'go-on') {
      this.#isStillBySleep = false
      this.tellTime({ kind: 'run', do: 'resume' })
    }
    this.#waitForDue()
  }

  /** Lights a dark lamp for a while, so that a person can find it; null: no more. Answered by `finding`. */
  findLamp(lamp: LampId | null): void {
    if (this.isAsleep) return this.#finding(null, 'the machine is about to sleep')
    const wasFinding = this.#isFinding
    this.#guarded(() => this.#graph.find(lamp, this.#time()))
    if (lamp === null && !wasFinding) this.#finding(null)
  }

  #finding(lamp: LampId | null, why?: string): void {
    this.#isFinding = lamp !== null
    const words = why === undefined ? {} : { why }
    this.#teller.say({ v: CONTRACT_VERSION, type: 'finding', lamp, ...words })
  }

  choosePort(port: string, place: number): void {
    const side = this.#outputs.hasMidi(port) ? this.#outputs : this.#inputs
    if (!side.choose(port, place)) {
      const message = 'that port cannot be chosen now; look at the list again'
      this.#teller.report('warning', port, 'no-choice', message)
    }
  }

  /** Which places of a list, just asked of the inputs' system, are open here. */
  heldInputs(list: readonly string[]): ReadonlySet<number> {
    return this.#inputs.openPlaces(list)
  }

  listenAgain(port: string): void {
    this.#inputs.listenAgain(port)
  }

  /** Darkens, waits (bounded) until the offs have left, lets the ports go. Resolves to whether all boxes said so. */
  stop(): Promise<boolean> {
    this.#stopped ??= this.#stop()
    return this.#stopped
  }

  async #stop(): Promise<boolean> {
    this.#isOver = true
    this.#machine.clock.stop()
    this.#cancelMidi()
    this.#readiness.stop()
    for (const cancel of this.#cancelTelling) cancel()
    this.darkAll()
    this.#clock.sender.close(this.#machine.clock.now())
    const closed = this.#outputs.close()
    this.#inputs.stop()
    const clean = await closed
    this.#graph.dispose()
    return clean
  }

  #makeGraph({ song, position }: Place): Graph {
    const serial = this.#show.rig.outputs.filter(({ kind }) => kind === 'serial')
    const linked = new Set(serial.map(({ id }) => id))
    const graph = new Graph({
      show: this.#show,
      song,
      position,
      at: Math.max(0, this.#machine.clock.now()),
      linked,
    })
    graph.tap$.subscribe((event) => this.#watch(event))
    this.#steps.begin(this.#show, song)
    for (const [output, timer] of this.#timers) graph.setTimer(output, timer, graph.now)
    return graph
  }

  #setTimer(output: OutputId, timer: TimerSpec): void {
    this.#timers.set(output, timer)
    this.#guarded(() => this.#graph.setTimer(output, timer, this.#time()))
    this.#readiness.renew(this.#graph, this.#show)
  }

  // Time.

  /** Now, on the graph's clock, later than everything it has done: packets never share a moment. */
  #time(): Micros {
    return Math.max(this.#machine.clock.now(), this.#graph.now + 1)
  }

  #wake(): void {
    const due = this.#due
    this.#due = Infinity
    if (this.#isOver || this.#asleepSince !== undefined) return
    const now = this.#machine.clock.now()
    this.#account.woke(now - due)
    this.#lookForGap(due, now)
    // Clocks first: they shall not wait for what lamps are told at the same time.
    this.#clock.sender.advance(now)
    this.#guarded(() => this.#graph.advance(Math.max(now, this.#graph.now)))
    this.#waitForDue()
  }

  #look(): void {
    if (this.#asleepSince !== undefined) return
    const now = this.#machine.clock.now()
    this.#lookForGap(this.#due, now)
    this.#looksAt = now + LOOKS_EVERY
  }

  /** Whether it is so long ago that something was due, a look if nothing else, that the machine must have slept. */
  #lookForGap(next: Micros, now: Micros): void {
    const due = Math.min(next, this.#looksAt)
    const away = now - due
    if (away <= SLEPT) return
    this.#looksAt = now + LOOKS_EVERY
    const message = `the machine was away for ${(away / 1e6).toFixed(1)} s; all lamps dark`
    this.#teller.report('warning', 'engine', 'slept', message)
    this.darkAll()
    this.#standStill(due)
    this.#goOn()
  }

  #waitForDue(): void {
    if (this.#isOver || this.#asleepSince !== undefined) return
    const due = Math.min(this.#graph.nextDue, this.#clock.sender.nextDue)
    if (due === this.#due) return
    this.#due = due
    this.#machine.clock.callAt(due, () => this.#wake())
  }

  /** Runs what the graph does; a graph that throws is broken: lamps dark, and a new one. */
  #guarded(work: () => void): void {
    try {
      work()
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error)
      const told = `${message}; all lamps dark, starting the song again`
      this.#teller.report('fault', 'engine', 'graph-failed', told)
      this.#outputs.darkNow()
      const { place, coming } = this.#graph
      if (coming) this.#songWords.push(NOTHING_COMES)
      this.#graph.dispose()
      this.#guards = new GuardAccount(this.#show.rig, this.#machine.clock.now())
      this.#areGuardsNew = true
      this.#graph = this.#makeGraph(place)
      this.#clock.begin(place.song, this.#graph.now)
      this.#graph.advance(this.#machine.clock.now())
      this.#readiness.renew(this.#graph, this.#show)
      this.#outputs.greetAll()
      if (this.#isFinding) this.#finding(null, 'all dark')
    }
    this.#tellSongs()
    if (this.#areGuardsNew) this.#tellGuards()
    this.#waitForDue()
  }

  // In.

  #hear(players: readonly PlayerId[], bytes: Uint8Array, now: Micros): void {
    if (this.#isOver) return
    if (this.#asleepSince !== undefined) {
      if (now - this.#asleepSince < ASLEEP) return
      this.awake()
    }
    // What comes in may wake the machine before its own timers do.
    this.#lookForGap(this.#due, now)
    this.#heardAt = now
    this.#guarded(() => {
      const at = this.#time()
      // Beats that a sleep has stopped are started by whoever strikes.
      if (this.#isStillBySleep && isStrike(bytes)) this.#graph.tellTime({ kind: 'run', do: 'start' }, at)
      for (const player of players) this.#graph.play(player, bytes, at)
      this.#graph.advance(at)
    })
    this.#heardAt = undefined
  }

  /** The clock that is followed; passed on first, since whoever follows us waits for it. */
  #hearClock(bytes: Uint8Array, now: Micros): void {
    if (this.#isOver || this.#asleepSince !== undefined) return
    this.#clock.sender.pass(bytes)
    const messages = clockMessages(bytes)
    if (messages.length === 0) return
    this.#lookForGap(this.#due, now)
    this.#guarded(() => {
      const at = this.#time()
      for (const message of messages) this.#graph.tellTime({ kind: 'heard', message }, at)
      this.#graph.advance(at)
    })
  }

  #silence(players: readonly PlayerId[]): void {
    for (const player of players) this.#guarded(() => this.#graph.silence(player, this.#time()))
  }

  // Out.

  #watch(event: TapEvent): void {
    // Diagnostics of all kinds go to the monitor where they leave the engine.
    if (this.#monitor?.isOn && event.kind !== 'diagnostic') this.#monitor.note(event)
    this.#act(event)
    // Lamps first.
    this.#guards.watch(event)
  }

  #act(event: TapEvent): void {
    switch (event.kind) {
      case 'frame':
        return this.#frame(event.changes)
      case 'bytes':
        return this.#bytes(event.output, event.bytes)
      case 'diagnostic':
        return this.#teller.say({
          v: CONTRACT_VERSION,
          type: 'diagnostic',
          at: event.at,
          diagnostic: event.diagnostic,
        })
      case 'refused':
        return this.#account.count('refused')
      case 'steal':
        return this.#account.count('steals')
      case 'shed':
        return this.#account.count('put out for another lamp')
      case 'held-down':
        return this.#account.count('held down for heat')
      case 'exceeded':
        return this.#account.count('supply over its limit')
      case 'finding':
        return this.#finding(event.lamp, event.why)
      case 'coming':
        this.#songWords.push(comingWords(event))
        return
      case 'tuning':
        this.#songWords.push({ v: CONTRACT_VERSION, type: 'tuned', tuning: event.tuning })
        return
      case 'step':
        return this.#steps.moved(event)
      case 'time':
        if (event.isRunning) this.#isStillBySleep = false
        return this.#clock.retime(event, event.at)
      case 'song':
        this.#steps.begin(this.#show, event.place.song)
        this.#areGuardsNew = true
        this.#account.count('switches')
        this.#clock.begin(event.place.song, event.at)
        this.#songWords.push({ v: CONTRACT_VERSION, type: 'song', ...event.place })
        return
      case 'dark':
        this.#outputs.darkBoxes()
        this.#songWords.push({ v: CONTRACT_VERSION, type: 'dark' })
        return
      case 'control':
        return this.#account.count('controls')
      case 'heard':
        if (event.message.type === 'note-on') this.#account.count('notes in')
        return this.#activities.watch(event)
      case 'player':
        return this.#activities.watch(event)
    }
  }

  #bytes(output: OutputId, bytes: Uint8Array): void {
    this.#outputs.send(output, bytes)
    const now = this.#machine.clock.now()
    this.#loops.sent(bytes, now)
    if (this.#heardAt !== undefined) this.#account.took(now - this.#heardAt)
  }

  #frame(changes: readonly LampChange[]): void {
    this.#areLampsNew = true
    if (!this.#outputs.hasBoxes) return
    this.#outputs.changes(changes)
    if (this.#heardAt !== undefined) this.#account.took(this.#machine.clock.now() - this.#heardAt)
  }

  // What screens are told.

  #tellSongs(): void {
    if (this.#songWords.length === 0) return
    const words = this.#songWords
    this.#songWords = []
    for (const word of words) this.#teller.say(word)
    if (words.some(({ type }) => type === 'song')) this.#readiness.renew(this.#graph, this.#show)
  }

  #tellLamps(): void {
    // A claim that comes or goes on dark lamps makes no frame.
    const { claimed } = this.#graph
    if (!this.#areLampsNew && claimed === this.#claimsTold) return
    this.#areLampsNew = false
    this.#claimsTold = claimed
    const lamps = this.#show.rig.lamps.map(({ id }, index) =>
      lampStatus(id, this.#graph.lamps[index] ?? { on: false }, claimed[index]),
    )
    this.#teller.say({ v: CONTRACT_VERSION, type: 'lamps', at: this.#machine.clock.now(), lamps })
  }

  #tellHowTimeGoes(): void {
    const word = this.#timeWatch.news(this.#graph.time, this.#machine.clock.now())
    if (word) this.#teller.say(word)
  }

  #tellSteps(): void {
    const parts = this.#steps.news()
    if (parts) this.#teller.say({ v: CONTRACT_VERSION, type: 'steps', at: this.#machine.clock.now(), parts })
  }

  #tellPlayers(): void {
    const players = this.#activities.news()
    if (players)
      this.#teller.say({ v: CONTRACT_VERSION, type: 'players', at: this.#machine.clock.now(), players })
  }

  /** What is due and has not been done is not told of yet. */
  #tellGuards(): void {
    this.#areGuardsNew = false
    const { now, nextDue, song: playing } = this.#graph
    const song = this.#show.songs.find(({ id }) => id === playing)
    const word =
      song && this.#guards.news(Math.max(now, Math.min(this.#machine.clock.now(), nextDue)), this.#show, song)
    if (word) this.#teller.say(word)
  }

  #tellFigures(): void {
    const { dropped, framesWaiting } = this.#outputs
    const present = {
      'dropped, port not there': dropped > 0 ? dropped : undefined,
      'frames waiting': framesWaiting,
    }
    this.#teller.say(this.#account.figures(this.#machine.clock.now(), present))
  }
}

function comingWords({ place, enterAt }: Extract<TapEvent, { kind: 'coming' }>): FromEngine {
  const { song, position } = place ?? { song: null, position: null }
  return { v: CONTRACT_VERSION, type: 'coming', song, position, enterAt }
}

/** Note-on (MIDI 1.0); with velocity 0 it is a note-off. */
function isStrike([status = 0, , velocity = 0]: Uint8Array): boolean {
  return status >> 4 === 9 && velocity > 0
}
