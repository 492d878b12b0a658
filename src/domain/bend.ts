import type { Cents } from './units.ts'

/** 14-bit bend, MIDI 1.0 Detailed Specification: 0..16383, 8192 is no bend. */
export const BEND_CENTRE = 8192
export const BEND_MAX = 16383

/**
 * Bend in cents. `value` 0..16383, `range` in semitones for a full bend either way.
 * Full up is one step short of the range, as the 14 bits have it.
 */
export function bendToCents(value: number, range: number): Cents {
  return ((value - BEND_CENTRE) / BEND_CENTRE) * range * 100
}

/** Nearest 14-bit bend for `cents`, clamped to what the range (semitones) can do. */
export function centsToBend(cents: Cents, range: number): number {
  if (range <= 0) return BEND_CENTRE
  const value = Math.round(BEND_CENTRE + (cents / (range * 100)) * BEND_CENTRE)
  return Math.min(BEND_MAX, Math.max(0, value))
}
