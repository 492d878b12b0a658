import type { NoteId, PlayerId, SongId } from '../domain/ids.ts'
import type { Show } from '../domain/show.ts'
import type { Stage, Step, Wake } from '../domain/stage.ts'
import type { EnterAt } from '../domain/switching.ts'
import type { Beats, Micros } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import { nextMultiple, timeOfBeat } from '../time/beat-clock.ts'
import type { Place, SetList, Walk } from './set-list.ts'
import { firstPlace, goTo, neighbour, nextVariant, placeOf, revisedWalk, startWalk } from './set-list.ts'

/** Which song is asked for. `position`: in the set list, from 0. */
export type SongAsk =
  | { readonly to: 'next' | 'previous' | 'variant' }
  | { readonly to: 'position'; readonly position: number }
  | { readonly to: 'song'; readonly song: SongId; readonly position?: number | undefined }

/** One player's note. */
export interface NoteRef {
  readonly player: PlayerId
  readonly note: NoteId
}

/** What of a show switching goes by. */
export interface Programme extends SetList {
  readonly songs: readonly {
    readonly id: SongId
    readonly skip: boolean
    readonly variantOf?: SongId | undefined
    readonly enterAt: EnterAt
    readonly beats: Beats
  }[]
}

export function programmeOf({ setList, songs, switching: { enterAt } }: Show): Programme {
  return {
    setList,
    songs: songs.map((song) => ({
      id: song.id,
      skip: song.skip,
      variantOf: song.variantOf,
      enterAt: song.enterAt ?? enterAt,
      beats: song.beats,
    })),
  }
}

export type SwitchingIn =
  /** Of several the last that leads somewhere counts. `sounding`: the notes that sound now. `insists`: the same asked for once more begins at once. */
  | {
      readonly kind: 'ask'
      readonly asks: readonly SongAsk[]
      readonly insists: boolean
      readonly sounding: readonly NoteRef[]
    }
  /** What was asked for and has not begun does not. */
  | { readonly kind: 'stay' }
  /** A song begins now, whatever was asked for. */
  | { readonly kind: 'begin'; readonly place: Place }
  /** A note has ended; without one, all of the player's have. */
  | { readonly kind: 'ended'; readonly player: PlayerId; readonly note?: NoteId }
  /** Beats go otherwise than before; `hasJumped`: from somewhere else. */
  | { readonly kind: 'time'; readonly clock: BeatClock; readonly hasJumped: boolean }
  /** The show was edited. */
  | { readonly kind: 'revised'; readonly programme: Programme }
  | Wake

export type SwitchingOut =
  /** Asked for, to begin later; null: no longer. */
  | { readonly kind: 'coming'; readonly place: Place | null; readonly enterAt: EnterAt }
  | { readonly kind: 'begin'; readonly place: Place }
  /** The set list has no such place. */
  | { readonly kind: 'nowhere'; readonly position: number; readonly places: number }

interface Pending {
  readonly place: Place
  readonly enterAt: EnterAt
  /** The beat it comes with; null: it waits for notes. */
  readonly due: Beats | null
  readonly waits: readonly NoteRef[]
}

export interface SwitchingState {
  readonly programme: Programme
  readonly walk: Walk
  /** The beats that songs begin on. */
  readonly clock: BeatClock
  readonly pending: Pending | null
}

/** Which song plays, which comes, and when that begins. One waits at a time: the last that was asked for. */
export const switching: Stage<
  { readonly programme: Programme; readonly place: Place; readonly clock: BeatClock },
  SwitchingState,
  SwitchingIn,
  SwitchingOut
> = {
  name: 'switching',
  start: ({ programme, place, clock }) => ({ programme, walk: startWalk(place), clock, pending: null }),
  step(state, event, now): Step<SwitchingState, SwitchingOut> {
    const { state: next, out } = happen(state, event, now)
    return { state: next, out, wake: wakeOf(next) }
  },
}

/** A beat that does not come before more is told of the clock is nothing to wake for. */
function wakeOf({ pending, clock }: SwitchingState): Micros | undefined {
  if (!pending || pending.due === null) return undefined
  const at = timeOfBeat(clock, pending.due)
  return at === Infinity ? undefined : at
}

type Change = { readonly state: SwitchingState; readonly out: readonly SwitchingOut[] }

function happen(state: SwitchingState, event: SwitchingIn, now: Micros): Change {
  switch (event.kind) {
    case 'ask':
      return ask(state, event, now)
    case 'stay':
      return stay(state)
    case 'begin':
      return begin(state, event.place)
    case 'ended':
      return ended(state, event.player, event.note)
    case 'revised':
      return revise(state, event.programme)
    case 'time':
      return retime(state, event, now)
    case 'wake':
      return state.pending ? begin(state, state.pending.place) : { state, out: [] }
  }
}

function ask(state: SwitchingState, asked: SwitchingIn & { kind: 'ask' }, now: Micros): Change {
  const { programme, walk, pending } = state
  const places = asked.asks.map((one) => placeAsked(programme, walk, one))
  const place = places.findLast((one) => one !== undefined)
  if (!place) return { state, out: asked.asks.flatMap((one) => nowhere(programme, one)) }
  if (isSamePlace(place, walk.place)) return stay(state)
  if (pending && isSamePlace(place, pending.place))
    return asked.insists ? begin(state, place) : { state, out: [] }
  const enterAt = programme.songs.find(({ id }) => id === place.song)?.enterAt ?? 'now'
  const due = dueOf(state, enterAt, now)
  const waits = enterAt === 'release' ? asked.sounding : []
  const isNow = due !== null && timeOfBeat(state.clock, due) <= now
  if (enterAt === 'now' || isNow || (due === null && waits.length === 0)) return begin(state, place)
  const coming = { kind: 'coming', place, enterAt } as const
  return { state: { ...state, pending: { place, enterAt, due, waits } }, out: [coming] }
}

function placeAsked(programme: Programme, walk: Walk, asked: SongAsk): Place | undefined {
  switch (asked.to) {
    case 'next':
    case 'previous':
      return neighbour(programme, walk, asked.to)
    case 'variant':
      return nextVariant(programme, walk)
    case 'position':
      return asked.position in programme.setList
        ? firstPlace(programme, undefined, asked.position)
        : undefined
    case 'song':
      return placeOf(programme, walk, asked.song, asked.position)
  }
}

function nowhere({ setList }: Programme, asked: SongAsk): SwitchingOut[] {
  return asked.to === 'position'
    ? [{ kind: 'nowhere', position: asked.position, places: setList.length }]
    : []
}

function isSamePlace(a: Place, b: Place): boolean {
  return a.song === b.song && a.position === b.position
}

/** Counted in the song that plays; null: not by time. */
function dueOf({ programme, walk, clock }: SwitchingState, enterAt: EnterAt, now: Micros): Beats | null {
  const song = programme.songs.find(({ id }) => id === walk.place.song)
  if (enterAt === 'now' || enterAt === 'release' || !song) return null
  return nextMultiple(clock, enterAt === 'bar' ? song.beats : 1, now)
}

/** The beat it waits for may have come with the clock that was heard just now; in beats that have jumped it is another. */
function retime(
  state: SwitchingState,
  { clock, hasJumped }: SwitchingIn & { kind: 'time' },
  now: Micros,
): Change {
  const moved = { ...state, clock }
  const pending =
    hasJumped && state.pending && state.pending.due !== null
      ? { ...state.pending, due: dueOf(moved, state.pending.enterAt, now) }
      : state.pending
  const next = { ...moved, pending }
  if (!pending || pending.due === null || timeOfBeat(clock, pending.due) > now)
    return { state: next, out: [] }
  return begin(next, pending.place)
}

function begin(state: SwitchingState, place: Place): Change {
  const over = stay(state)
  const walk = goTo(state.walk, place)
  return {
    state: { ...over.state, walk },
    out: [...over.out, { kind: 'begin', place }],
  }
}

function stay(state: SwitchingState): Change {
  if (!state.pending) return { state, out: [] }
  const { enterAt } = state.pending
  return { state: { ...state, pending: null }, out: [{ kind: 'coming', place: null, enterAt }] }
}

function ended(state: SwitchingState, player: PlayerId, note: NoteId | undefined): Change {
  const { pending } = state
  if (!pending || pending.due !== null) return { state, out: [] }
  const waits = pending.waits.filter(
    (one) => one.player !== player || (note !== undefined && one.note !== note),
  )
  if (waits.length === 0) return begin(state, pending.place)
  return { state: { ...state, pending: { ...pending, waits } }, out: [] }
}

/** What is coming stays so, at its place in the edited set list, unless it is gone or plays now. */
function revise(state: SwitchingState, programme: Programme): Change {
  const { pending } = state
  const walk = revisedWalk(programme, state.walk)
  const next = { ...state, programme, walk }
  if (!pending) return { state: next, out: [] }
  if (!programme.songs.some(({ id }) => id === pending.place.song)) return stay(next)
  const { place } = revisedWalk(programme, startWalk(pending.place))
  if (isSamePlace(place, walk.place)) return stay(next)
  if (isSamePlace(place, pending.place)) return { state: next, out: [] }
  return {
    state: { ...next, pending: { ...pending, place } },
    out: [{ kind: 'coming', place, enterAt: pending.enterAt }],
  }
}
