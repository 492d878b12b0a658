import { BEND_CENTRE, BEND_MAX, bendToCents } from './bend.ts'
import { hzToMidiKey, midiKeyToHz, shiftByCents } from './pitch.ts'
import type { Hz, Key } from './units.ts'

/** What key and bend sound together. `bend` 0..16383 (centre 8192), `range` in semitones for a full bend. */
export function bentKeyToHz(key: Key, bend: number, range: number): Hz {
  return shiftByCents(midiKeyToHz(key), bendToCents(bend, range))
}

/**
 * The bend that brings `key` within half a step of `hz`, or undefined where the range (semitones) does not reach that far. `bits` (7..14): how many of a bend's 14
 * bits, from the top, the receiver goes by, which makes its step range x 100 / 2^(bits - 1) cents. A range of 0 reaches
 * nothing but the key itself.
 */
export function bendForHz(hz: Hz, key: Key, range: number, bits = 14): number | undefined {
  const semitones = hzToMidiKey(hz) - key
  if (!(range > 0)) return Math.abs(semitones) < 1e-9 ? BEND_CENTRE : undefined
  const step = 2 ** (14 - bits)
  const bend = BEND_CENTRE + step * Math.round(((semitones / range) * BEND_CENTRE) / step)
  return bend >= 0 && bend <= BEND_MAX ? bend : undefined
}
