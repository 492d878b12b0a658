import { NOTE_VALUE_TEXT } from '../domain/note-value.ts'
import type { Beats, Bpm, Micros } from '../domain/units.ts'
import { MICROS_PER_MS, MICROS_PER_SECOND } from '../domain/units.ts'

/** Hint to the form that is drawn from a schema: text that `parseDuration` reads. */
export const NOTE_VALUE = { format: 'note-value', pattern: NOTE_VALUE_TEXT.source } as const

/** A note value such as "1/16" or "3/8", as a fraction of a whole note, in beats of a quarter; undefined where it is none. */
export function parseDuration(text: string): Beats | undefined {
  const found = NOTE_VALUE_TEXT.exec(text)
  return found ? (4 * Number(found[1])) / Number(found[2]) : undefined
}

/** Length of `beats` at `tempo`, in microseconds, not rounded: round only the sum, so that nothing drifts. */
export function beatsToMicros(beats: Beats, tempo: Bpm): number {
  return (beats * 60 * MICROS_PER_SECOND) / tempo
}

/** Milliseconds as whole microseconds. */
export function msToMicros(ms: number): Micros {
  return Math.round(ms * MICROS_PER_MS)
}
