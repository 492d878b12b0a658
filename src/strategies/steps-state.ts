import type { NoteId } from '../domain/ids.ts'
import type { Voice } from '../domain/intent.ts'
import type { Seed } from '../domain/random.ts'
import type { Beats, Channel, Duty, Micros, Velocity } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import { timeOfBeat } from '../time/beat-clock.ts'
import type { Refusals } from './refusals.ts'
import { NO_REFUSALS } from './refusals.ts'
import type { Lamps, Until } from './steps-lamps.ts'
import { dueTime } from './steps-lamps.ts'
import type { ReadyPattern, ReadySteps } from './steps-ready.ts'
import type { StepProgress } from './strategy.ts'

/** The clock of a pattern: beats since it was started, and the next division to come, counted from there. */
export interface PatternClock {
  readonly beats: BeatClock
  readonly next: number
}

/** What strikes have of the hit that they go back to. */
export interface Hit {
  readonly id: NoteId
  readonly channel: Channel
  readonly velocity: Velocity
  readonly duty?: Duty
}

/** A strike that swing makes late. */
export interface Late {
  readonly lamp: number
  readonly row: number | null
  readonly beat: Beats
  readonly voice: Voice
  readonly until: Until
}

/** A pad's own note, for as long as the hit lasts. */
export interface OwnNote {
  readonly id: NoteId
  readonly lamp: number
  readonly voice: Voice
}

export interface StepsState {
  readonly ready: ReadySteps
  /** The pattern that plays. */
  readonly current: number
  /** How far its rows have come, counted in steps from the first, which is 0; null: before it. */
  readonly place: number | null
  /** Per row of the pattern that plays: how far it is off the count, so that a row that was made longer or shorter stays where it stood; absent: not. */
  readonly offsets: readonly number[]
  /** Per pattern and row. */
  readonly muted: readonly (readonly boolean[])[]
  /** Null: it stands still until a hit. */
  readonly clock: PatternClock | null
  /** The clock that ran when all went dark: it runs again where the song's beats are started, or are elsewhere. */
  readonly stopped: PatternClock | null
  /** The clock is to start with the song. */
  readonly isToBegin: boolean
  readonly hit: Hit
  readonly hitAt: Micros | null
  /** Time between the last two hits that moved it. */
  readonly span: Micros | null
  /** The next step that sounds is accented. */
  readonly accent: boolean
  readonly late: readonly Late[]
  readonly lamps: Lamps
  readonly own: readonly OwnNote[]
  readonly refusals: Refusals
  readonly seed: Seed
  readonly shown: StepProgress
}

/** Of steps that the clock strikes before any hit: nobody's note, at the strength that a plain note-on has in a show without velocities. */
const NO_HIT: Hit = { id: 0, channel: 1, velocity: 100 }

export function startSteps(ready: ReadySteps, lamps: number): StepsState {
  const muted = ready.patterns.map(({ rows }) => rows.map((row) => row.muted))
  return {
    ready,
    current: ready.first,
    place: null,
    offsets: [],
    muted,
    clock: null,
    stopped: null,
    isToBegin: ready.starts === 'song',
    hit: NO_HIT,
    hitAt: null,
    span: null,
    accent: false,
    late: [],
    lamps: Array.from({ length: lamps }, () => null),
    own: [],
    refusals: NO_REFUSALS,
    seed: 1,
    shown: shownOf(ready.patterns[ready.first], null, [], muted[ready.first] ?? []),
  }
}

export function patternOf({ ready, current }: StepsState): ReadyPattern {
  return ready.patterns[current] as ReadyPattern
}

/** The same, with what is shown brought up to it. */
export function showing(state: StepsState): StepsState {
  const { place, offsets, muted, current } = state
  return { ...state, shown: shownOf(patternOf(state), place, offsets, muted[current] ?? []) }
}

function shownOf(
  pattern: ReadyPattern | undefined,
  place: number | null,
  offsets: readonly number[],
  muted: readonly boolean[],
): StepProgress {
  const rows = (pattern?.rows ?? []).map(({ steps }, row) =>
    place === null ? -1 : stepAt(place + (offsets[row] ?? 0), steps.length),
  )
  return { pattern: pattern?.id ?? '', rows, muted }
}

/** Which of a row's steps a place is; places before the first count back from its end. */
export function stepAt(place: number, length: number): number {
  return ((place % length) + length) % length
}

/** When the clock moves the pattern next; Infinity: it does not. */
export function nextTick(state: StepsState): Micros {
  const { advance, division } = patternOf(state)
  if (!state.clock || advance === 'hit') return Infinity
  return timeOfBeat(state.clock.beats, state.clock.next * division)
}

export function lateTime({ clock }: StepsState, { beat }: Late): Micros {
  return clock ? timeOfBeat(clock.beats, beat) : -Infinity
}

/** When something happens by itself next; Infinity: nothing does. */
export function nextTime(state: StepsState): Micros {
  let next = nextTick(state)
  for (const late of state.late) next = Math.min(next, lateTime(state, late))
  for (const one of state.lamps) {
    if (one) next = Math.min(next, dueTime(one.until, state.clock?.beats ?? null))
  }
  return next
}
