import type { Beats, Bpm, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { beatsToMicros } from './beats.ts'

/** A count of beats that runs with the tempo: at the time `at` it stood at `beats`. */
export interface BeatClock {
  readonly at: Micros
  readonly beats: Beats
  readonly tempo: Bpm
}

export function startBeatClock(at: Micros, tempo: Bpm): BeatClock {
  return { at, beats: 0, tempo }
}

/** When the clock comes to `beats`, to the nearest microsecond: rounded only here, so that nothing adds up. */
export function timeOfBeat({ at, beats: from, tempo }: BeatClock, beats: Beats): Micros {
  return at + Math.round(beatsToMicros(beats - from, tempo))
}

/** Where the clock stands at a time. */
export function beatAt({ at, beats, tempo }: BeatClock, time: Micros): Beats {
  return beats + ((time - at) * tempo) / (60 * MICROS_PER_SECOND)
}

/** The clock at another tempo from `now` on: what was to come on a beat still comes on it. */
export function atTempo(clock: BeatClock, tempo: Bpm, now: Micros): BeatClock {
  return { at: now, beats: beatAt(clock, now), tempo }
}
