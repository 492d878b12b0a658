import type { TuningId } from './ids.ts'
import type { Cents, Hz, Key } from './units.ts'

/** `steps` equal parts of `periodCents`; key `refNote` sounds `refHz`; each key is one step. */
export interface EqualTuning {
  readonly id: TuningId
  readonly kind: 'equal'
  readonly steps: number
  readonly periodCents: Cents
  readonly refNote: Key
  readonly refHz: Hz
}

export type TuningSpec = EqualTuning
