import type { Stage, Step, Wake } from '../domain/stage.ts'
import type { Beats, Bpm, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import type { BeatClock } from './beat-clock.ts'
import { atTempo } from './beat-clock.ts'
import { CLOCKS_A_BEAT } from './clock-count.ts'
import type { ClockMessage } from './clock-message.ts'
import { clockedAt, clockSpan, tempoOfClocks } from './clock-tempo.ts'
import { tapped, tempoOfTaps, tempoWithin } from './tap-tempo.ts'

export type SongTimeIn =
  /** A song begins. */
  | { readonly kind: 'begin'; readonly tempo: Bpm }
  | { readonly kind: 'tempo'; readonly tempo: Bpm }
  | { readonly kind: 'tap' }
  /** `start`: from beat 0; `go-on`: from where it stands; `resume`: that, and what had ended comes in where it is. */
  | {
      readonly kind: 'run'
      readonly do: 'start' | 'stop' | 'go-on' | 'resume'
      /** They have stood still since then, and nobody said so. */
      readonly since?: Micros
    }
  /** From the clock that is followed. */
  | { readonly kind: 'heard'; readonly message: ClockMessage }
  /** Its port is gone. */
  | { readonly kind: 'gone' }
  | Wake

/** What beats go by now. */
export interface SongTimeNow {
  /** The beats: of the song with its own tempo; of the followed clock since its Start. Tempo 0: they stand still. */
  readonly clock: BeatClock
  /** Never 0; of a followed clock an estimate, for show and for spans. */
  readonly tempo: Bpm
  readonly isFollowed: boolean
  readonly isRunning: boolean
  /** The followed clock does not come: none yet, or no more though nobody stopped it. */
  readonly isQuiet: boolean
  /** It is somewhere else than it would have come to. */
  readonly hasJumped: boolean
}

interface Following {
  /** The clock that comes next, counted from Start. */
  readonly next: number
  readonly times: readonly Micros[]
}

export interface SongTimeState extends SongTimeNow {
  readonly taps: readonly Micros[]
  readonly following: Following | null
}

/** A clock that does not come for so long, and for so many of its own spans, has stopped without saying so. */
const QUIET: Micros = MICROS_PER_SECOND / 2
const QUIET_SPANS = 6

/**
 * The beats of the song: by its own tempo, or by a MIDI clock that is followed. That one's clocks are counted and nothing else moves the beats: the tempo they are
 * estimated to have only says where between two clocks a time lies, and beats never come to the next clock before it does.
 */
export const songTime: Stage<
  { readonly follows: boolean; readonly tempo: Bpm; readonly at: Micros },
  SongTimeState,
  SongTimeIn,
  SongTimeNow
> = {
  name: 'song-time',
  start: ({ follows, tempo, at }) => ({
    clock: follows ? standing(at, 0) : { at, beats: 0, tempo },
    tempo,
    isFollowed: follows,
    isRunning: true,
    isQuiet: follows,
    hasJumped: false,
    taps: [],
    following: follows ? { next: 0, times: [] } : null,
  }),
  step(state, event, now): Step<SongTimeState, SongTimeNow> {
    const next = state.following ? follow(state, state.following, event, now) : ownTime(state, event, now)
    const { clock, tempo, isFollowed, isRunning, isQuiet, hasJumped } = next
    const out = next === state ? [] : [{ clock, tempo, isFollowed, isRunning, isQuiet, hasJumped }]
    return { state: { ...next, hasJumped: false }, out, wake: quietAt(next) }
  },
}

function ownTime(state: SongTimeState, event: SongTimeIn, now: Micros): SongTimeState {
  const { clock, tempo, taps } = state
  switch (event.kind) {
    case 'begin':
      return begun({ ...state, tempo: event.tempo, taps: [] }, now)
    case 'tempo':
      return withTempo({ ...state, taps: [] }, tempoWithin(event.tempo), now)
    case 'tap': {
      const all = tapped(taps, now)
      return withTempo({ ...state, taps: all }, tempoOfTaps(all) ?? tempo, now)
    }
    case 'run':
      if (event.do === 'start') return { ...begun(state, now), hasJumped: true }
      if ((event.do !== 'stop') === state.isRunning) return state
      return {
        ...state,
        isRunning: !state.isRunning,
        hasJumped: event.do === 'resume',
        clock: {
          ...atTempo(clock, state.isRunning ? 0 : tempo, Math.max(clock.at, event.since ?? now)),
          at: now,
        },
      }
    case 'heard':
    case 'gone':
    case 'wake':
      return state
  }
}

function begun(state: SongTimeState, now: Micros): SongTimeState {
  return { ...state, isRunning: true, clock: { at: now, beats: 0, tempo: state.tempo } }
}

function withTempo(state: SongTimeState, tempo: Bpm, now: Micros): SongTimeState {
  if (tempo === state.tempo) return { ...state }
  return { ...state, tempo, clock: atTempo(state.clock, state.isRunning ? tempo : 0, now) }
}

function follow(state: SongTimeState, following: Following, event: SongTimeIn, now: Micros): SongTimeState {
  switch (event.kind) {
    case 'heard':
      return hear(state, following, event.message, now)
    case 'gone':
    case 'wake':
      return state.isQuiet ? state : fellQuiet(state, following, now)
    // Songs begin where the other machine is, and its tempo is nobody else's to set.
    case 'begin':
      return { ...state }
    case 'tempo':
    case 'tap':
    case 'run':
      return state
  }
}

function hear(state: SongTimeState, following: Following, message: ClockMessage, now: Micros): SongTimeState {
  switch (message.kind) {
    case 'clock':
      return count(state, following, now)
    case 'start':
      return { ...wait(state, { ...following, next: 0 }, now), isRunning: true, hasJumped: true }
    case 'continue':
      return state.isRunning ? state : { ...wait(state, following, now), isRunning: true }
    case 'stop':
      return state.isRunning ? { ...wait(state, following, now), isRunning: false } : state
    case 'position':
      // Only while it stands still, as the standard has it.
      if (state.isRunning) return state
      return { ...wait(state, { ...following, next: message.clocks }, now), hasJumped: true }
  }
}

/** One clock more. Those that come while it is stopped only keep the tempo. */
function count(state: SongTimeState, following: Following, now: Micros): SongTimeState {
  const times = clockedAt(state.isQuiet ? [] : following.times, now, state.tempo)
  const tempo = tempoOfClocks(times, state.tempo)
  const heard = { ...state, tempo, isQuiet: false, following: { ...following, times } }
  if (!state.isRunning) return heard
  const { next } = following
  return {
    ...heard,
    clock: { at: now, beats: next / CLOCKS_A_BEAT, tempo, limit: (next + 1) / CLOCKS_A_BEAT },
    following: { next: next + 1, times },
  }
}

function wait(state: SongTimeState, following: Following, now: Micros): SongTimeState {
  return { ...state, following, clock: standing(now, following.next / CLOCKS_A_BEAT) }
}

function fellQuiet(state: SongTimeState, following: Following, now: Micros): SongTimeState {
  return { ...wait(state, { ...following, times: [] }, now), isQuiet: true }
}

/** Beats that stand still just before this one. */
function standing(at: Micros, limit: Beats): BeatClock {
  return { at, beats: limit, tempo: 0, limit }
}

function quietAt({ following, isQuiet, tempo }: SongTimeState): Micros | undefined {
  const last = following?.times.at(-1)
  if (isQuiet || last === undefined) return undefined
  return last + Math.round(Math.max(QUIET, QUIET_SPANS * clockSpan(tempo)))
}
