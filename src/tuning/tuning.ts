import type { TuningId } from '../domain/ids.ts'
import type { KeyTuning, TuningSpec } from '../domain/tuning-spec.ts'
import type { Hz, Key } from '../domain/units.ts'
import { equalKeyToHz } from './equal.ts'
import { scaleKeyToHz } from './scale.ts'

/** What `key` sounds in `tuning`; undefined where it has no pitch for it. Any whole key; transposed keys may lie outside 0..127. */
export function keyToHz(tuning: KeyTuning, key: Key): Hz | undefined {
  switch (tuning.kind) {
    case 'equal':
      return equalKeyToHz(tuning, key)
    case 'scale':
      return scaleKeyToHz(tuning, key)
    case 'table':
      return tuning.hz[key] ?? undefined
  }
}

/** The 128 keys of MIDI, key 0 first; undefined where one has no pitch. */
export function tuningTable(tuning: KeyTuning): (Hz | undefined)[] {
  return Array.from({ length: 128 }, (_, key) => keyToHz(tuning, key))
}

/** A show's tuning as it is known beforehand: one that is received is as its base. Undefined where there is none of that id. */
export function knownTuning(tunings: readonly TuningSpec[], id: TuningId | undefined): KeyTuning | undefined {
  const tuning = tunings.find((one) => one.id === id)
  if (tuning?.kind !== 'received') return tuning
  const base = tunings.find((one) => one.id === tuning.base)
  return base?.kind === 'received' ? undefined : base
}
