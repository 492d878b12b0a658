import { SEEN_STEADY_HZ } from '../../domain/flash-guard.ts'
import { CONCERN_BAND, isOfConcern } from '../../domain/pulse-rate.ts'
import type { Hz, Micros } from '../../domain/units.ts'
import { MICROS_PER_SECOND } from '../../domain/units.ts'

/** Rates that a lamp may flash at, and the gaps between two onsets of a lamp that come to the same. */
export interface FlashBand {
  has(hz: Hz): boolean
  /** Both ends included. */
  readonly shortest: Micros
  readonly longest: Micros
}

/** The band of most concern, its limits included. */
export const OF_CONCERN: FlashBand = {
  has: isOfConcern,
  shortest: Math.floor(MICROS_PER_SECOND / CONCERN_BAND[1]),
  longest: Math.ceil(MICROS_PER_SECOND / CONCERN_BAND[0]),
}

/** All that can be seen to flash. Onsets more than a second apart are no rate: no second has two of them. */
export const UNDER_STEADY: FlashBand = {
  has: (hz) => hz < SEEN_STEADY_HZ,
  shortest: Math.floor(MICROS_PER_SECOND / SEEN_STEADY_HZ) + 1,
  longest: MICROS_PER_SECOND,
}
