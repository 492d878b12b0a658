import { Subject } from 'rxjs'
import { flashGuardOf } from '../domain/flash-guard.ts'
import type { LampIndex, OutputId, PartId, PlayerId, SongId, TuningId } from '../domain/ids.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import { isSameData } from '../domain/same-data.ts'
import type { TimerSpec } from '../domain/rig.ts'
import type { Show } from '../domain/show.ts'
import type { Song } from '../domain/song.ts'
import type { TableTuning } from '../domain/tuning-spec.ts'
import type { Micros } from '../domain/units.ts'
import type { AnyStrategy } from '../strategies/strategy.ts'
import type { Agenda } from './agenda.ts'
import type { House } from './house.ts'
import type { Lifted } from './lift.ts'
import { lift } from './lift.ts'
import type { Moment } from './moment.ts'
import { Prepared } from './prepared.ts'
import { songChange } from './same-show.ts'
import type { Place } from './set-list.ts'
import { revisedWalk } from './set-list.ts'
import type { SongBranch, Told } from './song-branch.ts'
import { songBranch } from './song-branch.ts'
import type { HeldNote } from './standing.ts'
import { Standing } from './standing.ts'
import type { SongTuning } from './told-tunings.ts'
import { Tunings } from './tunings.ts'
import type { SongTimeIn, SongTimeNow, SongTimeState } from '../time/song-time.ts'
import { songTime } from '../time/song-time.ts'
import type { SongAsk, SwitchingIn, SwitchingOut, SwitchingState } from './switching.ts'
import { programmeOf, switching } from './switching.ts'

export interface SongsOptions {
  readonly show: Show
  readonly place: Place
  readonly strategies: readonly AnyStrategy[]
  readonly agenda: Agenda
  readonly house: House
  readonly moment: Moment
}

/** Which song plays, which comes, and how one follows the other. */
export class Songs {
  #show: Show
  readonly #options: SongsOptions
  readonly #standing: Standing
  readonly #events = new Subject<SwitchingIn>()
  readonly #switching: Lifted<SwitchingState, SwitchingIn, SwitchingOut>
  readonly #times = new Subject<SongTimeIn>()
  readonly #time: Lifted<SongTimeState, SongTimeIn, SongTimeNow>
  /** A song is about to begin: it needs no telling how beats go. */
  #isTurning = false
  readonly #prepared: Prepared
  readonly #tunings: Tunings
  #branch: SongBranch
  /** Songs that this moment has ended, still to be let go. */
  #left: SongBranch[] = []
  /** Notes that the song which began in this moment was given. */
  #carried: readonly HeldNote[] = []

  constructor(options: SongsOptions) {
    const { show, place, agenda, house } = options
    this.#show = show
    this.#options = options
    const fault = (error: unknown): void => house.fault('switching', error)
    this.#time = lift('song-time', songTime, timeConfig(show, place.song, agenda.now), agenda, (error) =>
      house.fault('song-time', error),
    )
    house.own(this.#times.pipe(this.#time.operator()).subscribe((now) => this.#timed(now)))
    const config = { programme: programmeOf(show), place, clock: this.#time.state.clock }
    this.#switching = lift('switching', switching, config, agenda, fault)
    house.own(this.#events.pipe(this.#switching.operator()).subscribe((out) => this.#switched(out)))
    this.#standing = new Standing(agenda)
    this.#tunings = new Tunings(show, agenda)
    this.#prepared = new Prepared((song) => this.#make(song))
    this.#branch = this.#make(this.place.song)
    this.#branch.goOn()
  }

  get place(): Place {
    return this.#switching.state.walk.place
  }

  /** The song that was asked for and begins later. */
  get coming(): Place | null {
    return this.#switching.state.pending?.place ?? null
  }

  /** A player did something. */
  did(player: PlayerId, event: PlayerEvent): void {
    this.#standing.heard(player, event)
    this.#branch.play(player, event)
    if (this.#switching.state.pending === null) return
    if (event.kind === 'note-off') this.#events.next({ kind: 'ended', player, note: event.note })
    else if (event.kind === 'all-off') this.#events.next({ kind: 'ended', player })
  }

  /** Of several the last that leads somewhere counts. `insists`: what is asked for a second time begins at once. */
  ask(asks: readonly SongAsk[], insists: boolean): void {
    const sounding = this.#standing.notes.flatMap(({ player, on: { note } }) =>
      this.#branch.hasLamp(player, note) ? [{ player, note }] : [],
    )
    this.#events.next({ kind: 'ask', asks, insists, sounding })
  }

  /** How the song's beats go. */
  get time(): SongTimeNow {
    return this.#time.state
  }

  /** What becomes of the song's beats. */
  tellTime(event: SongTimeIn): void {
    this.#times.next(event)
  }

  /** The tuning that the song goes on in, where it is not its own. */
  get tuning(): TuningId | null {
    return this.#tunings.chosen
  }

  /** What the song that plays is in, but for parts with a tuning of their own. */
  get wholeTuning(): SongTuning {
    return this.#tunings.whole(this.#playing)
  }

  /** The song goes on in another tuning; null: its own. */
  tune(tuning: TuningId | null, retune: boolean): void {
    const { agenda, house } = this.#options
    this.#tunings.choose(tuning)
    house.tap({ kind: 'tuning', at: agenda.now, tuning, retune })
    this.#branch.tune(this.#tunings.ofPlaying(this.#playing), retune)
  }

  /** A player's instrument says how its keys are tuned. `retune`: what sounds as well. */
  received(tuning: TableTuning, retune: boolean): void {
    this.#tunings.received(tuning)
    // Songs that were made ready know the keys as they were.
    this.#prepared.keep(new Set())
    this.#branch.tune(this.#tunings.ofPlaying(this.#playing), retune)
  }

  /** What was asked for and has not begun does not. */
  stay(): void {
    this.#events.next({ kind: 'stay' })
  }

  begin(place: Place): void {
    this.#events.next({ kind: 'begin', place })
  }

  /** Songs of an edited show. Returns whether the song that plays is not what it was, and began anew from dark; one whose patterns alone have changed plays on. */
  revise(show: Show): boolean {
    const programme = programmeOf(show)
    const { place } = revisedWalk(programme, this.#switching.state.walk)
    const before = this.#show
    const change = place.song === this.place.song ? songChange(before, show, place.song) : 'all'
    const wereTuned = this.#tunings.ofPlaying(this.#playing)
    this.#retune(show)
    this.#events.next({ kind: 'revised', programme })
    if (change === 'all') this.#play(this.place, 'cut')
    else {
      if (change === 'lively') {
        const flash = flashGuardOf(show, this.#playing)
        this.#branch.revise(this.#playing, flash)
        this.#options.moment.guardFlash(flash)
      }
      const tuned = this.#tunings.ofPlaying(this.#playing)
      if (!isSameData(tuned, wereTuned)) this.#branch.tune(tuned, true)
    }
    return change === 'all'
  }

  retime(show: Show, output: OutputId, timer: TimerSpec): void {
    this.#retune(show)
    this.#branch.retimer(output, timer)
  }

  /** Makes a song ready. Throws a RangeError for one that the show has not. */
  prepare(song: SongId): void {
    if (song !== this.place.song) this.#prepared.prepare(song)
  }

  isPrepared(song: SongId): boolean {
    return this.#prepared.has(song)
  }

  keepPrepared(songs: ReadonlySet<SongId>): void {
    this.#prepared.keep(songs)
  }

  ownerOf(lamp: LampIndex): string | undefined {
    return this.#branch.ownerOf(lamp)
  }

  /** Per lamp: the part whose claim has it; the same list until a claim comes or goes. */
  get claimed(): readonly (PartId | undefined)[] {
    return this.#branch.claimed()
  }

  /** A guard refused the lamp to the note that is on it. */
  refuse(lamp: LampIndex): void {
    const branch = this.#branch
    this.#options.agenda.post(() => {
      if (branch === this.#branch) branch.refuse(lamp, 'supply')
    })
  }

  /** All is dark: what is held back is dropped, and claims are given back. */
  clear(): void {
    this.#branch.clear()
  }

  /** Parts and guards agree: carried notes that have found no lamp are over. Returns whether there were any, and it is to be agreed anew. */
  endUnlit(): boolean {
    const unlit = this.#carried.filter(({ player, on }) => !this.#branch.hasLamp(player, on.note))
    if (unlit.length === 0) return false
    this.#carried = this.#carried.filter((held) => !unlit.includes(held))
    for (const { player, on } of unlit) {
      this.#standing.end(player, on.note)
      this.#branch.play(player, { kind: 'note-off', note: on.note })
    }
    this.#options.agenda.drain()
    return true
  }

  /** The moment is over: what it ended is let go. */
  settled(): void {
    this.#carried = []
    for (const branch of this.#left) branch.dispose()
    this.#left = []
  }

  dispose(): void {
    this.settled()
    this.#prepared.keep(new Set())
    this.#branch.dispose()
  }

  #make(id: SongId): SongBranch {
    const song = this.#show.songs.find((one) => one.id === id)
    if (!song) throw new RangeError(`Unknown song "${id}"`)
    const { strategies, agenda, house, moment } = this.#options
    return songBranch(song, {
      show: this.#show,
      strategies,
      house,
      agenda,
      time: () => this.#time.state,
      tunings: this.#tunings.ofSong(song),
      wish: (wishes) => {
        for (const wish of wishes) moment.wish(wish)
      },
    })
  }

  /** Songs are made by this show from now on. */
  #retune(show: Show): void {
    const { chosen } = this.#tunings
    this.#show = show
    this.#tunings.revise(show)
    if (chosen !== null && this.#tunings.chosen === null) this.#toldOwn()
    this.#prepared.keep(new Set())
  }

  #switched(out: SwitchingOut): void {
    const { agenda, house } = this.#options
    const at = agenda.now
    if (out.kind === 'coming') house.tap({ ...out, at })
    else if (out.kind === 'begin') agenda.post(() => this.#play(out.place))
    else {
      const places = `${out.places} ${out.places === 1 ? 'place' : 'places'}`
      const message = `place ${out.position + 1} was asked for, and the set list has ${places}`
      house.report({ level: 'warning', source: 'switching', code: 'no-place', message })
    }
  }

  #play(place: Place, how?: Song['enter']): void {
    const { agenda, house, moment } = this.#options
    const next = this.#prepared.take(place.song)
    const enter = how ?? next.song.enter
    this.#branch.leave()
    this.#left.push(this.#branch)
    this.#branch = next
    this.#ownTuning()
    if (enter === 'cut') this.#standing.endAll()
    this.#carried = [...this.#standing.notes]
    house.tap({ kind: 'song', at: agenda.now, place, enter })
    this.#isTurning = true
    this.#times.next({ kind: 'begin', tempo: next.song.tempo })
    this.#isTurning = false
    moment.guardFlash(flashGuardOf(this.#show, next.song))
    moment.begin()
    next.goOn()
    next.begin(this.#told(next), moment.lamps)
  }

  /** The song that plays is in its own tuning again, or another begins in its own. */
  #ownTuning(): void {
    if (this.#tunings.chosen === null) return
    this.#tunings.choose(null)
    this.#toldOwn()
  }

  #toldOwn(): void {
    const { agenda, house } = this.#options
    house.tap({ kind: 'tuning', at: agenda.now, tuning: null, retune: false })
  }

  /** The song that plays, as the show has it. */
  get #playing(): Song {
    const song = this.#show.songs.find(({ id }) => id === this.place.song)
    return song ?? this.#branch.song
  }

  #timed(now: SongTimeNow): void {
    const { agenda, house } = this.#options
    house.tap({ ...now, kind: 'time', at: agenda.now })
    this.#events.next({ kind: 'time', clock: now.clock, hasJumped: now.hasJumped })
    if (!this.#isTurning) this.#branch.retime(now.hasJumped)
  }

  /** How players stand, as far as the song goes by it. */
  #told({ listens }: SongBranch): Told[] {
    const told: Told[] = []
    for (const { player, controllers } of listens) {
      for (const event of this.#standing.bends(player)) told.push({ player, event })
      for (const controller of controllers) {
        const event = this.#standing.controller(player, controller)
        if (event) told.push({ player, event })
      }
    }
    for (const { player, on, isReleased } of this.#standing.notes) {
      told.push({ player, event: on })
      if (isReleased) told.push({ player, event: { kind: 'note-release', note: on.note } })
    }
    return told
  }
}

function timeConfig({ clock, songs }: Show, song: SongId, at: Micros) {
  const tempo = songs.find(({ id }) => id === song)?.tempo ?? 120
  return { follows: clock.follow !== undefined, tempo, at }
}
