import { BEND_CENTRE, BEND_MAX, bendToCents } from './bend.ts'
import { hzToMidiKey, midiKeyToHz, shiftByCents } from './pitch.ts'
import type { Hz, Key } from './units.ts'

/** What key and bend sound together. `bend` 0..16383 (centre 8192), `range` in semitones for a full bend. */
export function bentKeyToHz(key: Key, bend: number, range: number): Hz {
  return shiftByCents(midiKeyToHz(key), bendToCents(bend, range))
}

/**
 * The 14-bit bend that brings `key` within half a bend step (range x 100 / 16384 cents) of `hz`, or undefined where the
 * range (semitones) does not reach that far. A range of 0 reaches nothing but the key itself.
 */
export function bendForHz(hz: Hz, key: Key, range: number): number | undefined {
  const semitones = hzToMidiKey(hz) - key
  if (!(range > 0)) return Math.abs(semitones) < 1e-9 ? BEND_CENTRE : undefined
  const bend = Math.round(BEND_CENTRE + (semitones / range) * BEND_CENTRE)
  return bend >= 0 && bend <= BEND_MAX ? bend : undefined
}
