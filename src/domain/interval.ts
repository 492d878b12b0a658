import { centsBetween } from './pitch.ts'
import type { Cents, Hz } from './units.ts'

/** Two pulses whose partials nearly meet: `low` of the lower pulse and `high` of the higher, without a common factor; "3:2" has low 3, high 2. */
export interface Coincidence {
  readonly low: number
  readonly high: number
  /** How much wider than that ratio the interval is; negative: narrower. */
  readonly off: Cents
  /** |low f1 - high f2|: how often the loudness of the two partials comes and goes (any acoustics handbook). */
  readonly beats: Hz
}

/** Beats of two rates that are nearly one; either order. */
export function beating(one: Hz, other: Hz): Hz {
  return Math.abs(one - other)
}

/**
 * Which partials of two pulses nearly meet, the simplest ratio first: whole numbers up to `partials` without a common factor whose ratio the interval is within
 * `within` cents of. Either order; RangeError for rates that are not above 0.
 */
export function coincidences(one: Hz, other: Hz, partials = 8, within: Cents = 35): Coincidence[] {
  if (!(one > 0 && other > 0)) throw new RangeError(`rates are above 0, got ${one} and ${other}`)
  const [lower, higher] = one <= other ? [one, other] : [other, one]
  const found: Coincidence[] = []
  for (let high = 1; high <= partials; high++) {
    for (let low = high; low <= partials; low++) {
      if (commonFactor(low, high) !== 1) continue
      const off = centsBetween(high * higher, low * lower)
      if (Math.abs(off) <= within) found.push({ low, high, off, beats: beating(low * lower, high * higher) })
    }
  }
  return found.toSorted((a, b) => a.low + a.high - (b.low + b.high) || a.low - b.low)
}

/** Greatest whole number that divides both; both from 1. */
function commonFactor(a: number, b: number): number {
  return b === 0 ? a : commonFactor(b, a % b)
}
