import type { EqualTuning } from '../domain/tuning-spec.ts'
import type { Hz, Key } from '../domain/units.ts'

/**
 * refHz x 2^((key - refNote) / steps x periodCents / 1200), for any whole key, also outside 0..127.
 *
 * Whole octaves are taken out before the power is: they are then a change of exponent only, so keys that are octaves
 * apart differ by exact powers of two however far from the reference they are.
 */
export function equalKeyToHz(tuning: EqualTuning, key: Key): Hz {
  const cents = (key - tuning.refNote) * tuning.periodCents
  const octave = tuning.steps * 1200
  const octaves = Math.floor(cents / octave)
  const rest = cents - octaves * octave
  return tuning.refHz * 2 ** (rest / octave) * 2 ** octaves
}
