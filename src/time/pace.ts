import type { Bpm } from '../domain/units.ts'
import { MICROS_PER_MS } from '../domain/units.ts'
import { beatsToMicros, parseDuration } from './beats.ts'

/** A regular span: a note value that follows the tempo, or milliseconds that do not. */
export type Pace = { readonly every: string } | { readonly everyMs: number }

/** Length in microseconds at `tempo`, not rounded. Throws a RangeError where `every` is no note value. */
export function paceMicros(pace: Pace, tempo: Bpm): number {
  if ('everyMs' in pace) return pace.everyMs * MICROS_PER_MS
  const beats = parseDuration(pace.every)
  if (beats === undefined) throw new RangeError(`"${pace.every}" is not a note value such as "1/16"`)
  return beatsToMicros(beats, tempo)
}
