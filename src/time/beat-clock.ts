import type { Beats, Bpm, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { beatsToMicros } from './beats.ts'

/** A count of beats that runs with the tempo: at the time `at` it stood at `beats`. Tempo 0: it stands still. */
export interface BeatClock {
  readonly at: Micros
  readonly beats: Beats
  readonly tempo: Bpm
  /** The beat it does not come to by itself: whose clock is followed says when that is. */
  readonly limit?: Beats
  /** Where its own 0 lies on the clock of the song. */
  readonly from?: Beats
}

/** Beats that differ by less are the same: what is left of sums of fractions, a thousandth of a MIDI clock. */
const SAME_BEAT: Beats = 1 / 24_000

/** A clock that starts at 0 now and runs with the song's; where another machine's clock is followed, from the last clock that came. */
export function startBeatClock(song: BeatClock, now: Micros): BeatClock {
  const from = song.limit === undefined ? beatAt(song, now) : song.beats
  return runWith(song, from, now)
}

/** The clock as the song's runs now. `hasJumped`: the song is somewhere else, and the clock goes on from where it was. */
export function follow(clock: BeatClock, song: BeatClock, now: Micros, hasJumped = false): BeatClock {
  const from = hasJumped ? song.beats - beatAt(clock, now) : (clock.from ?? 0)
  return runWith(song, from, song.at)
}

function runWith(song: BeatClock, from: Beats, at: Micros): BeatClock {
  const beats =
    (at === song.at ? song.beats : song.limit === undefined ? beatAt(song, at) : song.beats) - from
  const { tempo, limit } = song
  return { at, beats, tempo, from, ...(limit === undefined ? {} : { limit: limit - from }) }
}

/** When the clock comes to `beats`, to the nearest microsecond: rounded only here, so that nothing adds up. Infinity: not before it is told more. */
export function timeOfBeat({ at, beats: from, tempo, limit }: BeatClock, beats: Beats): Micros {
  if (limit !== undefined && beats > limit - SAME_BEAT) return Infinity
  if (Math.abs(beats - from) < SAME_BEAT) return at
  if (tempo === 0) return beats > from ? Infinity : at
  return at + Math.round(beatsToMicros(beats - from, tempo))
}

/** Where the clock stands at a time. */
export function beatAt({ at, beats, tempo, limit }: BeatClock, time: Micros): Beats {
  return Math.min(limit ?? Infinity, beats + ((time - at) * tempo) / (60 * MICROS_PER_SECOND))
}

/** The clock at another tempo from `now` on: what was to come on a beat still comes on it. */
export function atTempo(clock: BeatClock, tempo: Bpm, now: Micros): BeatClock {
  return { ...clock, at: now, beats: beatAt(clock, now), tempo }
}

/** Whether beats that stand still are past that one. */
function isGone({ beats, tempo }: BeatClock, beat: Beats): boolean {
  return tempo === 0 && beat < beats - SAME_BEAT
}

/** The first multiple of `every` that the clock has not passed at `now`; one it stands on counts. */
export function nextMultiple(clock: BeatClock, every: Beats, now: Micros): Beats {
  let count = Math.floor(beatAt(clock, now) / every + SAME_BEAT)
  while (timeOfBeat(clock, count * every) < now || isGone(clock, count * every)) count++
  return count * every
}
