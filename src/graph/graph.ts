import type { Observable } from 'rxjs'
import { BehaviorSubject, Subject, Subscription, switchMap } from 'rxjs'
import type { Diagnostic } from '../domain/diagnostic.ts'
import type { LampId, LampIndex, OutputId, PlayerId, SongId } from '../domain/ids.ts'
import type { LampChange, LampState, Lit } from '../domain/lamp-state.ts'
import { DARK, sameState } from '../domain/lamp-state.ts'
import type { TimerSpec } from '../domain/rig.ts'
import type { Show } from '../domain/show.ts'
import type { Micros } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'
import type { SupplyGuardIn, SupplyGuardOut, SupplyGuardState } from '../guards/supply.ts'
import { hasRoom, supplyGuard } from '../guards/supply.ts'
import type { ThruIn } from '../outputs/thru.ts'
import { thruStage } from '../outputs/thru.ts'
import type { AnyStrategy } from '../strategies/strategy.ts'
import { strategies as registry } from '../strategies/registry.ts'
import { findLight } from '../tuning/find-light.ts'
import type { SavedCell } from './agenda.ts'
import { Agenda } from './agenda.ts'
import { Finder } from './finder.ts'
import type { House } from './house.ts'
import type { Heard } from './input-order.ts'
import { offsFirst } from './input-order.ts'
import type { Lifted } from './lift.ts'
import { lift } from './lift.ts'
import type { OutputBranch } from './output-branch.ts'
import { outputBranch } from './output-branch.ts'
import type { PlayerBranch } from './player-branch.ts'
import { playerBranch } from './player-branch.ts'
import { isSameHouse, isSameSong } from './same-show.ts'
import type { SongBranch } from './song-branch.ts'
import { songBranch } from './song-branch.ts'
import type { TapEvent } from './tap.ts'

/** How long a lamp is lit to be found. */
const FIND_TIME: Micros = 2_000_000

/** A graph put down to be taken up again; JSON-safe. */
export interface SavedGraph {
  readonly now: Micros
  readonly song: SongId
  readonly cells: Readonly<Record<string, SavedCell>>
  readonly lamps: readonly LampState[]
  readonly inbox: readonly Heard[]
  readonly isOpen: boolean
}

export interface GraphOptions {
  readonly show: Show
  readonly song: SongId
  /** Go on from here; the same show and song. */
  readonly saved?: SavedGraph
  readonly strategies?: readonly AnyStrategy[]
  /** Outputs whose lamps somebody else turns into bytes, from the frames on the tap: live serial lines, which answer. */
  readonly linked?: ReadonlySet<OutputId>
}

/**
 * A show's song as a graph, from players' bytes to outputs' bytes. Time comes from outside and never runs back: `play` says what came in and when,
 * `advance` that nothing more comes until then. All that is due up to then happens, in order of time, whatever the pieces it was asked for in.
 */
export class Graph {
  readonly tap$: Observable<TapEvent>
  readonly #tap = new Subject<TapEvent>()
  /** The show as it was given; `#show` has the timers that lamp boxes turned out to have. */
  #told: Show
  #show: Show
  readonly #strategies: readonly AnyStrategy[]
  readonly #agenda: Agenda
  readonly #house: House
  readonly #owned = new Subscription()
  readonly #players: ReadonlyMap<PlayerId, PlayerBranch>
  readonly #outputs: ReadonlyMap<OutputId, OutputBranch>
  readonly #thrus: ReadonlyMap<PlayerId, readonly Subject<ThruIn>[]>
  readonly #guarded = new Subject<SupplyGuardIn>()
  readonly #guard: Lifted<SupplyGuardState, SupplyGuardIn, SupplyGuardOut>
  readonly #finder: Finder
  /** Lit to be found until a note of this moment took it. */
  #givenUp: LampIndex | undefined
  readonly #song: BehaviorSubject<SongId>
  #branch: SongBranch | undefined
  /** What came in at `now` and waits for the moment to close. */
  #inbox: Heard[] = []
  #isOpen = false
  /** Wishes of this moment, each lamp's last. */
  #wishes = new Map<LampIndex, Wish>()
  /** What the guards let through in this moment. */
  #admitted = new Map<LampIndex, LampState>()
  readonly #lamps: LampState[]

  constructor({ show, song, saved, strategies = registry, linked = new Set() }: GraphOptions) {
    this.tap$ = this.#tap.asObservable()
    this.#told = show
    this.#show = show
    this.#strategies = strategies
    this.#agenda = new Agenda(saved?.now ?? 0, saved?.cells)
    this.#house = this.#makeHouse()
    this.#players = new Map(show.players.map((player) => [player.id, this.#makePlayer(player.id)]))
    const encoded = show.rig.outputs.filter(({ id }) => !linked.has(id))
    this.#outputs = new Map(
      encoded.map((output) => {
        const lamps = show.rig.lamps.flatMap((lamp, index) =>
          lamp.output === output.id ? [{ index, slot: lamp.slot }] : [],
        )
        return [output.id, outputBranch(output, lamps, this.#house)]
      }),
    )
    this.#thrus = this.#connectThrus()
    this.#lamps = saved ? [...saved.lamps] : show.rig.lamps.map(() => DARK)
    this.#guard = this.#connectGuards()
    this.#finder = new Finder(this.#agenda, () => this.#stopFinding())
    this.#song = new BehaviorSubject(saved?.song ?? song)
    this.#connectSong()
    this.#inbox = saved ? [...saved.inbox] : []
    this.#isOpen = saved?.isOpen ?? false
    this.#agenda.forgetSaved()
  }

  get now(): Micros {
    return this.#agenda.now
  }

  get song(): SongId {
    return this.#song.value
  }

  /** What every lamp does, in the rig's order. */
  get lamps(): readonly LampState[] {
    return this.#lamps
  }

  /** Greets the outputs: to be called once somebody listens to the tap. */
  open(): void {
    for (const output of this.#outputs.values()) output.events.next({ kind: 'open' })
    this.#agenda.drain()
  }

  /** An output's port is open again: greets it and says how its lamps stand. */
  reopen(output: OutputId, at: Micros): void {
    this.#enter(at)
    this.#closeMoment()
    this.#outputs.get(output)?.events.next({ kind: 'open' })
    this.#agenda.drain()
  }

  /** A lamp box turned out to have another timer than the show says: what sounds there is worked out anew. */
  setTimer(output: OutputId, timer: TimerSpec, at: Micros): void {
    const outputs = this.#show.rig.outputs.map((one) =>
      one.id === output && one.kind === 'serial' ? { ...one, timer } : one,
    )
    this.#show = { ...this.#show, rig: { ...this.#show.rig, outputs } }
    this.#enter(at)
    this.#closeMoment()
    this.#stopFinding('a lamp box has just answered')
    this.#branch?.retime(output, timer)
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

  /** All lamps dark, then the new song. */
  changeSong(song: SongId, at: Micros): void {
    if (!this.#show.songs.some(({ id }) => id === song)) throw new RangeError(`Unknown song "${song}"`)
    this.#enter(at)
    this.#closeMoment()
    this.#begin(song)
  }

  /**
   * The show has been edited: songs, tunings, titles, nothing else (`isSameHouse`, or a RangeError). The song that plays goes on where it is what it was;
   * where not, or with another song, all lamps go dark and it begins anew. Returns whether it did.
   */
  revise(show: Show, song: SongId, at: Micros): boolean {
    if (!isSameHouse(this.#told, show))
      throw new RangeError('Another rig or other players need another graph')
    if (!show.songs.some(({ id }) => id === song)) throw new RangeError(`Unknown song "${song}"`)
    const goesOn = song === this.song && isSameSong(this.#show, show, song)
    this.#enter(at)
    this.#closeMoment()
    this.#told = show
    // Timers are as the lamp boxes said.
    this.#show = { ...show, rig: { ...show.rig, outputs: this.#show.rig.outputs } }
    if (!goesOn) this.#begin(song)
    else {
      this.#stopFinding('the show was edited')
      this.#settle()
    }
    return !goesOn
  }

  #begin(song: SongId): void {
    this.#stopFinding('a song begins')
    this.#song.next(song)
    this.#agenda.drain()
    for (const index of this.#lamps.keys()) this.#wishes.set(index, { lamp: index, state: DARK, gap: 0 })
    this.#settle()
  }

  /**
   * Lights a dark lamp for two seconds, so that a person can find it; null: no more. One at a time, within the supply's limit whatever its guard does, and only
   * until a note wants the lamp or its power. What becomes of it is on the tap as `finding`.
   */
  find(lamp: LampId | null, at: Micros): void {
    this.#enter(at)
    this.#closeMoment()
    this.#stopFinding()
    this.#settle()
    if (lamp === null) return
    const index = this.#show.rig.lamps.findIndex(({ id }) => id === lamp)
    const light = this.#lightToFind(lamp, index)
    if (typeof light === 'string') {
      this.#house.tap({ kind: 'finding', at, lamp: null, why: light })
      return
    }
    this.#wishes.set(index, { lamp: index, state: light, gap: 0 })
    this.#finder.begin(index, at + FIND_TIME)
    this.#house.tap({ kind: 'finding', at, lamp })
    this.#settle()
  }

  /** Everything dark at once: the outputs first, whatever state the graph is in; then the players' notes end. */
  darkAll(at: Micros): void {
    this.#agenda.now = Math.max(at, this.now)
    for (const output of this.#outputs.values()) output.events.next({ kind: 'dark-all' })
    this.#takeInbox()
    this.#endAll()
    this.#agenda.drain()
    this.#settle()
  }

  /** Darkens what is lit and tells the outputs that their ports are about to close. */
  close(at: Micros): void {
    this.darkAll(at)
    for (const output of this.#outputs.values()) output.events.next({ kind: 'close' })
    this.#agenda.drain()
  }

  /** Ends every subscription; the graph is of no further use. */
  dispose(): void {
    this.#owned.unsubscribe()
    this.#tap.complete()
  }

  save(): SavedGraph {
    return {
      now: this.now,
      song: this.song,
      cells: this.#agenda.save(),
      lamps: [...this.#lamps],
      inbox: [...this.#inbox],
      isOpen: this.#isOpen,
    }
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
    return playerBranch(player, this.#house, (message) => {
      this.#house.tap({ kind: 'heard', at: this.now, player: id, message })
      this.#inbox.push({ player: id, message })
    })
  }

  #connectGuards(): Lifted<SupplyGuardState, SupplyGuardIn, SupplyGuardOut> {
    const { rig, guards } = this.#show
    const config = { supplies: rig.supplies, lamps: rig.lamps, action: guards.supply.action }
    const guard = lift('supply guard', supplyGuard, config, this.#agenda, (error, { wishes }) => {
      // What cannot be judged stays dark.
      this.#house.fault('supply guard', error)
      for (const { lamp } of wishes) this.#refuse(lamp)
    })
    this.#owned.add(
      this.#guarded.pipe(guard.operator()).subscribe((out) => {
        if (out.kind === 'admitted') for (const wish of out.wishes) this.#admitted.set(wish.lamp, wish.state)
        else if (out.kind === 'refused') this.#refuse(out.lamp)
        else {
          const lamp = rig.lamps[out.lamp]?.id ?? ''
          this.#house.tap({ kind: 'exceeded', at: this.now, lamp, supply: out.supply })
        }
      }),
    )
    return guard
  }

  #refuse(lamp: LampIndex): void {
    if (lamp === this.#finder.lamp) this.#stopFinding('refused by the supply guard')
    this.#admitted.set(lamp, DARK)
    this.#agenda.post(() => this.#branch?.refuse(lamp, 'supply'))
  }

  #connectSong(): void {
    const players = new Map([...this.#players].map(([id, branch]) => [id, branch.events$]))
    this.#owned.add(
      this.#song
        .pipe(
          switchMap((id) => {
            const song = this.#show.songs.find((one) => one.id === id)
            if (!song) throw new RangeError(`Unknown song "${id}"`)
            this.#branch = songBranch(this.#show, song, players, this.#strategies, this.#house)
            return this.#branch.wishes$
          }),
        )
        .subscribe((wishes) => {
          for (const wish of wishes) this.#wish(wish)
        }),
    )
  }

  /** What the lamp would do, or why it is not to be lit now. */
  #lightToFind(id: LampId, index: LampIndex): Lit | string {
    const { rig } = this.#show
    const lamp = rig.lamps[index]
    const output = rig.outputs.find((one) => one.id === lamp?.output)
    if (!lamp || !output) return `the rig has no lamp "${id}"`
    const owner = this.#branch?.ownerOf(index)
    if (owner !== undefined) return `lit by part ${owner}`
    const light = findLight(lamp, output)
    if (!light) return 'it only flashes so slowly that it would flicker'
    return hasRoom(this.#guard.state, index) ? light : `the supply ${lamp.supply} has no room`
  }

  #stopFinding(why?: string): void {
    const { lamp } = this.#finder
    if (lamp === undefined) return
    this.#finder.end()
    if (!this.#wishes.has(lamp)) this.#wishes.set(lamp, { lamp, state: DARK, gap: 0 })
    this.#house.tap({
      kind: 'finding',
      at: this.now,
      lamp: null,
      ...(why === undefined ? {} : { why }),
    })
  }

  /** To the guard a lamp that went from being found to a note was dark in between: that it was lit wins the note nothing over others of its moment. */
  #giveUp(): void {
    const lamp = this.#givenUp
    if (lamp === undefined) return
    this.#givenUp = undefined
    this.#guarded.next({ kind: 'wishes', wishes: [{ lamp, state: DARK, gap: 0 }] })
  }

  /** A note goes before a lamp that is only lit to be found: where the guard would refuse one for want of the power that this takes, it goes dark. */
  #makeRoom(): void {
    const { lamp } = this.#finder
    if (lamp === undefined || this.#wishes.has(lamp)) return
    const wishes = [...this.#wishes.values()]
    const without: Wish[] = [...wishes, { lamp, state: DARK, gap: 0 }]
    const overLimit = (all: readonly Wish[]): number =>
      supplyGuard
        .step(this.#guard.state, { kind: 'wishes', wishes: all }, this.now)
        .out.filter(({ kind }) => kind !== 'admitted').length
    if (overLimit(without) < overLimit(wishes)) this.#stopFinding('a note needs its power')
  }

  /** Within a moment a lamp's last state counts; that it was struck in between stays true. */
  #wish(wish: Wish): void {
    if (wish.lamp === this.#finder.lamp) {
      // No part has the lamp until one lights it.
      if (!wish.state.on) return
      this.#stopFinding(`lit by part ${wish.state.part}`)
      this.#givenUp = wish.lamp
      this.#wishes.set(wish.lamp, { ...wish, state: { ...wish.state, strike: true } })
      return
    }
    const earlier = this.#wishes.get(wish.lamp)
    const struck = earlier?.state.on && earlier.state.strike && wish.state.on && !wish.state.strike
    this.#wishes.set(
      wish.lamp,
      struck ? { ...wish, state: { ...wish.state, strike: true } as LampState } : wish,
    )
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

  /** Everything that happens at `now`. */
  #closeMoment(): void {
    this.#agenda.wakeDue()
    this.#takeInbox()
    this.#settle()
  }

  #takeInbox(): void {
    const heard = this.#inbox
    this.#inbox = []
    this.#isOpen = false
    for (const one of offsFirst(heard)) {
      this.#tell(one.player, one.message)
      this.#agenda.drain()
    }
  }

  #connectThrus(): ReadonlyMap<PlayerId, readonly Subject<ThruIn>[]> {
    const thrus = new Map<PlayerId, Subject<ThruIn>[]>()
    this.#show.thru.forEach((thru, index) => {
      const source = new Subject<ThruIn>()
      const name = `thru ${index + 1}`
      const stage = lift(name, thruStage, thru, this.#agenda, (error) => this.#house.fault(name, error))
      this.#owned.add(
        source.pipe(stage.operator()).subscribe((message) => this.#outputs.get(thru.to)?.thru(message)),
      )
      thrus.set(thru.player, [...(thrus.get(thru.player) ?? []), source])
    })
    return thrus
  }

  /** To the thrus first, since they need nobody's decision, then to the player's conditioning. */
  #tell(player: PlayerId, message: Heard['message'] | { readonly kind: 'all-off' }): void {
    for (const thru of this.#thrus.get(player) ?? []) thru.next(message)
    this.#players.get(player)?.messages.next(message)
  }

  /** Guards until nothing is refused any more, then sends what is new, each lamp once. */
  #settle(): void {
    const limit = 4 * this.#lamps.length + 64
    for (let round = 0; this.#wishes.size > 0; round++) {
      this.#giveUp()
      this.#makeRoom()
      const wishes = [...this.#wishes.values()]
      this.#wishes.clear()
      if (round === limit) {
        const message = 'parts and guards did not agree; all notes end'
        this.#report({ level: 'fault', source: 'graph', code: 'unsettled', message })
        this.#endAll()
      } else if (round > limit) for (const { lamp } of wishes) this.#admitted.set(lamp, DARK)
      else this.#guarded.next({ kind: 'wishes', wishes })
      this.#agenda.drain()
    }
    if (this.#admitted.size === 0) return
    const changes: LampChange[] = []
    for (const [index, state] of this.#admitted) {
      const lamp = this.#show.rig.lamps[index]
      const before = this.#lamps[index]
      if (!lamp || !before || sameState(before, state)) continue
      this.#lamps[index] = state
      changes.push({ lamp: lamp.id, index, state })
    }
    this.#admitted.clear()
    if (changes.length === 0) return
    changes.sort((a, b) => Number(a.state.on) - Number(b.state.on) || a.index - b.index)
    this.#house.tap({ kind: 'frame', at: this.now, changes })
    for (const output of this.#outputs.values()) output.events.next({ kind: 'changes', changes })
    this.#agenda.drain()
  }

  #darkAll(): void {
    for (const output of this.#outputs.values()) output.events.next({ kind: 'dark-all' })
    this.#endAll()
  }

  /** Every player's notes end and every lamp is to be dark. */
  #endAll(): void {
    this.#stopFinding('all dark')
    for (const player of this.#players.keys()) this.#tell(player, { kind: 'all-off' })
    // After what the ends of the notes raise, so that nothing held back lights a lamp later.
    this.#agenda.post(() => this.#branch?.clear())
    for (const index of this.#lamps.keys()) this.#wishes.set(index, { lamp: index, state: DARK, gap: 0 })
  }
}
