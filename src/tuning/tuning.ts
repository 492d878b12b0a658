import type { TuningSpec } from '../domain/tuning-spec.ts'
import type { Hz, Key } from '../domain/units.ts'
import { equalKeyToHz } from './equal.ts'

/** What `key` sounds in `tuning`. Any whole key; transposed keys may lie outside 0..127. */
export function keyToHz(tuning: TuningSpec, key: Key): Hz {
  switch (tuning.kind) {
    case 'equal':
      return equalKeyToHz(tuning, key)
  }
}

/** The 128 keys of MIDI, key 0 first. */
export function tuningTable(tuning: TuningSpec): Hz[] {
  return Array.from({ length: 128 }, (_, key) => keyToHz(tuning, key))
}
