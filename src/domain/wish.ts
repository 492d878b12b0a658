import type { LampIndex } from './ids.ts'
import type { LampState } from './lamp-state.ts'
import type { Micros } from './units.ts'

/** A lamp state worked out to the last tick, before the guards have seen it. */
export interface Wish {
  readonly lamp: LampIndex
  readonly state: LampState
  /** Dark this long before, where it is a strike on a lamp that is lit. */
  readonly gap: Micros
}
