import type { Observable } from 'rxjs'
import { Subject, Subscription } from 'rxjs'
import type { Diagnostic } from '../domain/diagnostic.ts'
import { flashGuardOf } from '../domain/flash-guard.ts'
import type { LampId, OutputId, PartId, PlayerId, SongId, TuningId } from '../domain/ids.ts'
import type { LampState } from '../domain/lamp-state.ts'
import { DARK } from '../domain/lamp-state.ts'
import type { TimerSpec } from '../domain/rig.ts'
import type { Show } from '../domain/show.ts'
import type { Song } from '../domain/song.ts'
import type { Micros } from '../domain/units.ts'
import type { EncoderEvent } from '../outputs/encoder-event.ts'
import type { PlayerIn } from '../players/player-in.ts'
import type { AnyStrategy } from '../strategies/strategy.ts'
import { strategies as registry } from '../strategies/registry.ts'
import type { DoneAct } from '../players/controls.ts'
import type { SavedCell } from './agenda.ts'
import { Agenda } from './agenda.ts'
import { HeardTunings } from './heard-tunings.ts'
import type { House } from './house.ts'
import { Inbox } from './inbox.ts'
import type { Heard } from './input-order.ts'
import { Moment } from './moment.ts'
import type { OutputBranch } from './output-branch.ts'
import { outputBranch } from './output-branch.ts'
import type { PlayerBranch } from './player-branch.ts'
import { playerBranch } from './player-branch.ts'
import { isSameHouse } from './same-show.ts'
import type { Place } from './set-list.ts'
import { firstPlace } from './set-list.ts'
import { Songs } from './songs.ts'
import type { SongTimeIn, SongTimeNow } from '../time/song-time.ts'
import type { SongAsk } from './switching.ts'
import type { TapEvent } from './tap.ts'
import { Thrus } from './thrus.ts'
import { ToldTunings } from './told-tunings.ts'

/** A graph put down to be taken up again; JSON-safe. */
export interface SavedGraph {
  readonly now: Micros
  readonly cells: Readonly<Record<string, SavedCell>>
  readonly lamps: readonly LampState[]
  readonly inbox: readonly Heard[]
  readonly isOpen: boolean
}

export interface GraphOptions {
  readonly show: Show
  /** Where it begins; `position`: the song's place in the set list, from 0, where it stands there more than once. */
  readonly song: SongId
  readonly position?: number | null
  /** When it begins; left out: at 0. */
  readonly at?: Micros
  /** Go on from here; the same show. */
  readonly saved?: SavedGraph
  readonly strategies?: readonly AnyStrategy[]
  /** Outputs whose lamps somebody else turns into bytes, from the frames on the tap: live serial lines, which answer. */
  readonly linked?: ReadonlySet<OutputId>
}

/**
 * A show's songs as a graph, from players' bytes to outputs' bytes; one plays at a time. Time comes from outside and never runs back: `play` says what came in and
 * when, `advance` that nothing more comes until then. All that is due up to then happens, in order of time, whatever the pieces it was asked for in.
 */
export class Graph {
  readonly tap$: Observable<TapEvent>
  readonly #tap = new Subject<TapEvent>()
  /** The show as it was given; `#show` has the timers that lamp boxes turned out to have. */
  #told: Show
  #show: Show
  readonly #agenda: Agenda
  readonly #house: House
  readonly #owned = new Subscription()
  readonly #players: ReadonlyMap<PlayerId, PlayerBranch>
  readonly #outputs: ReadonlyMap<OutputId, OutputBranch>
  readonly #thrus: Thrus
  readonly #heardTunings: HeardTunings
  readonly #toldTunings: ToldTunings
  readonly #inbox: Inbox
  readonly #moment: Moment
  readonly #songs: Songs
  /** The moment `now` has not been closed. */
  #isOpen = false

  constructor(options: GraphOptions) {
    const { show, song, position, at = 0, saved, strategies = registry, linked = new Set() } = options
    this.tap$ = this.#tap.asObservable()
    this.#told = show
    this.#show = show
    this.#agenda = new Agenda(saved?.now ?? at, saved?.cells)
    const agenda = this.#agenda
    const house = this.#makeHouse()
    this.#house = house
    this.#inbox = new Inbox(show.players, show.switching.controls, saved?.inbox ?? [], house)
    this.#players = new Map(show.players.map((player) => [player.id, this.#makePlayer(player.id)]))
    this.#outputs = this.#makeOutputs(linked)
    this.#thrus = new Thrus(show.thru, house, (to, message) => this.#outputs.get(to)?.thru(message))
    this.#heardTunings = new HeardTunings(show, house, (tuning, retune) =>
      this.#songs.received(tuning, retune),
    )
    this.#toldTunings = new ToldTunings(show.rig.outputs, house, (to, message) =>
      this.#outputs.get(to)?.thru(message),
    )
    this.#moment = new Moment({
      show,
      lamps: saved?.lamps ?? show.rig.lamps.map(() => DARK),
      agenda,
      house,
      flash: flashGuardOf(show, songOf(show, song)),
      ownerOf: (lamp) => this.#songs.ownerOf(lamp),
      refused: (lamp) => this.#songs.refuse(lamp),
      unsettled: () => this.#endAll(),
    })
    const place = firstPlace(show, song, position)
    this.#songs = new Songs({ show, place, strategies, agenda, house, moment: this.#moment })
    this.#isOpen = saved?.isOpen ?? false
    this.#agenda.forgetSaved()
  }

  get now(): Micros {
    return this.#agenda.now
  }

  /** The song that plays, and its place in the set list. */
  get place(): Place {
    return this.#songs.place
  }

  get song(): SongId {
    return this.place.song
  }

  /** The song that was asked for and begins later. */
  get coming(): Place | null {
    return this.#songs.coming
  }

  /** What every lamp does, in the rig's order. */
  get lamps(): readonly LampState[] {
    return this.#moment.lamps
  }

  /** Per lamp, lit or dark: the part whose claim has it. The same list until a claim comes or goes. */
  get claimed(): readonly (PartId | undefined)[] {
    return this.#songs.claimed
  }

  /** Greets the outputs: to be called once somebody listens to the tap. */
  open(): void {
    this.#tellOutputs({ kind: 'open' })
    this.#toldTunings.open()
    this.#agenda.drain()
    this.#tellTuning()
  }

  /** An output's port is open again: greets it and says how its lamps stand. */
  reopen(output: OutputId, at: Micros): void {
    this.#enter(at)
    this.#closeMoment()
    this.#outputs.get(output)?.events.next({ kind: 'open' })
    this.#toldTunings.open(output)
    this.#agenda.drain()
    this.#tellTuning()
  }

  /** A lamp box turned out to have another timer than the show says: what sounds there is worked out anew. */
  setTimer(output: OutputId, timer: TimerSpec, at: Micros): void {
    const outputs = this.#show.rig.outputs.map((one) =>
      one.id === output && one.kind === 'serial' ? { ...one, timer } : one,
    )
    this.#enter(at)
    this.#closeMoment()
    this.#show = { ...this.#show, rig: { ...this.#show.rig, outputs } }
    this.#moment.finder.stop('a lamp box has just answered')
    this.#moment.retime(this.#show.rig)
    this.#songs.retime(this.#show, output, timer)
    this.#agenda.drain()
    this.#settle()
  }

  /** Bytes from a player's port at a time not before `now`; bytes of one time belong to one moment. Throws RangeError for an unknown player or a time past. */
  play(player: PlayerId, bytes: Uint8Array | readonly number[], at: Micros): void {
    const branch = this.#players.get(player)
    if (!branch) throw new RangeError(`Unknown player "${player}"`)
    this.#enter(at)
    branch.bytes.next(bytes)
  }

  /** Ends every note of a player, as when its cable is pulled. */
  silence(player: PlayerId, at: Micros): void {
    if (!this.#players.has(player)) throw new RangeError(`Unknown player "${player}"`)
    this.#enter(at)
    this.#closeMoment()
    this.#inbox.forget(player)
    this.#tell(player, { kind: 'all-off' })
    this.#agenda.drain()
    this.#settle()
  }

  /** Nothing more comes in up to and including `until`: everything due by then happens. */
  advance(until: Micros): void {
    if (until < this.now) throw new RangeError(`Time runs one way: ${until} is before ${this.now}`)
    for (;;) {
      const due = Math.min(this.#agenda.nextWake(), this.#isOpen ? this.now : Infinity)
      if (due > until) break
      this.#agenda.now = Math.max(due, this.now)
      this.#closeMoment()
    }
    this.#agenda.now = until
  }

  /** Time of the next thing that happens by itself; Infinity for none. */
  get nextDue(): Micros {
    return this.#isOpen ? this.now : this.#agenda.nextWake()
  }

  /**
   * Asks for another song, which begins when it says (`enterAt`); asked for once more meanwhile, at once. Throws a RangeError for a song that the show has not.
   */
  ask(ask: SongAsk, at: Micros): void {
    if (ask.to === 'song') this.#demand(ask.song)
    this.#between(at, () => this.#songs.ask([ask], true))
  }

  /** What was asked for and has not begun does not. */
  stay(at: Micros): void {
    this.#between(at, () => this.#songs.stay())
  }

  /** How the song's beats go. */
  get time(): SongTimeNow {
    return this.#songs.time
  }

  /** What becomes of the song's beats: a tempo, a tap, on or off, or bytes of the clock that is followed. */
  tellTime(event: SongTimeIn, at: Micros): void {
    this.#between(at, () => this.#songs.tellTime(event))
  }

  /** The tuning that the song goes on in, where it is not its own. */
  get tuning(): TuningId | null {
    return this.#songs.tuning
  }

  /**
   * The song goes on in another tuning until the next begins; null: its own again. Parts that have a tuning of their own keep it. `retune`: what sounds as well, else notes to
   * come. Throws a RangeError for a tuning that the show has not.
   */
  tune(tuning: TuningId | null, retune: boolean, at: Micros): void {
    if (tuning !== null && !this.#show.tunings.some(({ id }) => id === tuning))
      throw new RangeError(`Unknown tuning "${tuning}"`)
    this.#between(at, () => this.#songs.tune(tuning, retune))
  }

  /** A song begins at once, as it says in `enter`. */
  changeSong(song: SongId, at: Micros): void {
    this.#demand(song)
    this.#between(at, () => this.#songs.begin(firstPlace(this.#show, song, this.place.position)))
  }

  /** Makes a song ready, so that it begins without delay; nothing is played by it. Throws a RangeError for one that the show has not. */
  prepare(song: SongId): void {
    this.#demand(song)
    this.#songs.prepare(song)
  }

  isPrepared(song: SongId): boolean {
    return this.#songs.isPrepared(song)
  }

  /** Of the songs that have been made ready, all others are let go. */
  keepPrepared(songs: ReadonlySet<SongId>): void {
    this.#songs.keepPrepared(songs)
  }

  /**
   * The show has been edited: songs, tunings, titles, controls, nothing else (`isSameHouse`, or a RangeError). The song that plays goes on where it is what it was,
   * or where its patterns alone have changed, each row at its step; where not, all lamps go dark and it begins anew; where it is gone, what stands in its place does. Returns whether one began.
   */
  revise(show: Show, at: Micros): boolean {
    if (!isSameHouse(this.#told, show))
      throw new RangeError('Another rig or other players need another graph')
    this.#enter(at)
    this.#closeMoment()
    this.#told = show
    // Timers are as the lamp boxes said.
    this.#show = { ...show, rig: { ...show.rig, outputs: this.#show.rig.outputs } }
    this.#inbox.revise(show.switching.controls)
    this.#heardTunings.revise(show)
    const hasBegun = this.#songs.revise(this.#show)
    if (!hasBegun) this.#moment.finder.stop('the show was edited')
    this.#agenda.drain()
    this.#settle()
    return hasBegun
  }

  /**
   * Lights a dark lamp for two seconds, so that a person can find it; null: no more. One at a time, within the supply's limit whatever its guard does, and only
   * until a note wants the lamp or its power. What becomes of it is on the tap as `finding`.
   */
  find(lamp: LampId | null, at: Micros): void {
    this.#enter(at)
    this.#closeMoment()
    this.#moment.finder.stop()
    this.#settle()
    if (lamp === null) return
    this.#moment.finder.start(lamp, this.#show.rig)
    this.#settle()
  }

  /** Everything dark at once: the outputs first, whatever state the graph is in; then the players' notes end. A song that was to come does not. */
  darkAll(at: Micros): void {
    this.#agenda.now = Math.max(at, this.now)
    this.#tellOutputs({ kind: 'dark-all' })
    this.#takeInbox()
    this.#songs.stay()
    this.#endAll()
    this.#agenda.drain()
    this.#settle()
  }

  /** Darkens what is lit and tells the outputs that their ports are about to close. */
  close(at: Micros): void {
    this.darkAll(at)
    this.#tellOutputs({ kind: 'close' })
    this.#toldTunings.close()
    this.#agenda.drain()
  }

  /** Ends every subscription; the graph is of no further use. */
  dispose(): void {
    this.#songs.dispose()
    this.#owned.unsubscribe()
    this.#tap.complete()
  }

  save(): SavedGraph {
    return {
      now: this.now,
      cells: this.#agenda.save(),
      lamps: [...this.lamps],
      inbox: [...this.#inbox.waiting],
      isOpen: this.#isOpen,
    }
  }

  #demand(song: SongId): void {
    if (!this.#show.songs.some(({ id }) => id === song)) throw new RangeError(`Unknown song "${song}"`)
  }

  #makeHouse(): House {
    return {
      agenda: this.#agenda,
      tap: (event) => {
        if (this.#tap.observed) this.#tap.next(event)
      },
      report: (diagnostic) => this.#report(diagnostic),
      fault: (source, error) => {
        const message = error instanceof Error ? error.message : String(error)
        this.#report({ level: 'fault', source, code: 'stage-failed', message })
      },
      darkAll: () => this.#darkAll(),
      own: (subscription) => this.#owned.add(subscription),
    }
  }

  #report(diagnostic: Diagnostic): void {
    this.#house.tap({ kind: 'diagnostic', at: this.now, diagnostic })
  }

  #makePlayer(id: PlayerId): PlayerBranch {
    const player = this.#show.players.find((one) => one.id === id)
    if (!player) throw new Error(`Unknown player "${id}"`)
    const branch = playerBranch(player, this.#house, (message) => this.#inbox.put(id, message))
    this.#owned.add(branch.events$.subscribe((event) => this.#songs.did(id, event)))
    return branch
  }

  #makeOutputs(linked: ReadonlySet<OutputId>): ReadonlyMap<OutputId, OutputBranch> {
    const { outputs, lamps } = this.#show.rig
    const encoded = outputs.filter(({ id }) => !linked.has(id))
    return new Map(
      encoded.map((output) => {
        const own = lamps.flatMap(({ output: id, slot }, index) =>
          id === output.id ? [{ index, slot }] : [],
        )
        return [output.id, outputBranch(output, own, this.#house)]
      }),
    )
  }

  #tellOutputs(event: EncoderEvent): void {
    for (const output of this.#outputs.values()) output.events.next(event)
  }

  /** To the thrus first, since they need nobody's decision; then, in the order of what is played, its instrument's tuning; then to the player's conditioning. */
  #tell(player: PlayerId, message: Exclude<PlayerIn, { kind: 'wake' }>): void {
    this.#thrus.tell(player, message)
    if ('type' in message) this.#heardTunings.tell(player, message)
    this.#players.get(player)?.messages.next(message)
  }

  /** Goes to the moment `at`, closing those before. */
  #enter(at: Micros): void {
    if (!Number.isInteger(at) || at < this.now) {
      throw new RangeError(`Time is whole microseconds and runs one way: ${at} after ${this.now}`)
    }
    if (at > this.now) this.advance(at - 1)
    this.#agenda.now = at
    this.#isOpen = true
  }

  /** What is asked from outside comes after all that happened at its time. */
  #between(at: Micros, work: () => void): void {
    this.#enter(at)
    this.#closeMoment()
    work()
    this.#agenda.drain()
    this.#settle()
  }

  /** Everything that happens at `now`. */
  #closeMoment(): void {
    this.#agenda.wakeDue()
    this.#takeInbox()
    this.#settle()
  }

  /** Notes that end go first, then the last song that was asked for, since what is struck at that time is meant for it; and whoever darkens has the last word. */
  #takeInbox(): void {
    const { offs, rest, acts } = this.#inbox.take()
    this.#isOpen = false
    this.#tellAll(offs)
    const asks = acts.flatMap((act) => askOf(act) ?? [])
    if (asks.length > 0) {
      this.#songs.ask(asks, false)
      this.#agenda.drain()
    }
    for (const act of acts) {
      if (act === 'tap') this.#songs.tellTime({ kind: 'tap' })
      else if (typeof act === 'object' && 'tuning' in act) this.#songs.tune(act.tuning, act.retune)
    }
    this.#agenda.drain()
    this.#tellAll(rest)
    if (acts.includes('dark')) {
      this.#house.tap({ kind: 'dark', at: this.now })
      this.#songs.stay()
      this.#darkAll()
      this.#agenda.drain()
    }
  }

  #tellAll(heard: readonly Heard[]): void {
    for (const { player, message } of heard) {
      this.#tell(player, message)
      this.#agenda.drain()
    }
  }

  /** Guards until nothing is refused any more, then sends what is new, each lamp once. */
  #settle(): void {
    do this.#moment.agree()
    while (this.#songs.endUnlit())
    const changes = this.#moment.changes()
    if (changes.length > 0) {
      this.#house.tap({ kind: 'frame', at: this.now, changes })
      this.#tellOutputs({ kind: 'changes', changes })
      this.#agenda.drain()
    }
    this.#songs.settled()
    this.#tellTuning()
  }

  /** After the lamps' changes, which shall not wait for it on the cable. */
  #tellTuning(): void {
    this.#toldTunings.tell(() => this.#songs.wholeTuning)
    this.#agenda.drain()
    this.#toldTunings.flush()
  }

  #darkAll(): void {
    this.#tellOutputs({ kind: 'dark-all' })
    this.#endAll()
  }

  /** Every player's notes end and every lamp is to be dark. */
  #endAll(): void {
    this.#moment.finder.stop('all dark')
    for (const player of this.#players.keys()) this.#tell(player, { kind: 'all-off' })
    // After what the ends of the notes raise, so that nothing held back lights a lamp later.
    this.#agenda.post(() => this.#songs.clear())
    this.#moment.darkenAll()
  }
}

function songOf({ songs }: Show, id: SongId): Pick<Song, 'flash'> {
  return songs.find((song) => song.id === id) ?? {}
}

/** Undefined: it asks for no song. */
function askOf(act: DoneAct): SongAsk | undefined {
  if (act === 'dark' || act === 'tap') return undefined
  if (typeof act === 'string') return { to: act }
  if ('tuning' in act) return undefined
  return 'song' in act ? { to: 'song', song: act.song } : { to: 'position', position: act.place - 1 }
}
