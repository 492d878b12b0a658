import { centsBetween } from '../domain/pitch.ts'
import type { Cents, Hz } from '../domain/units.ts'

/** Partials up to here are told. */
const MOST = 8
/** An interval this near a simple ratio has partials that nearly coincide: an equal tempered third is 13.7 or 15.6 cents off. */
const NEAR: Cents = 20

/** A ratio of small whole numbers, the upper first: [3, 2] is a fifth. */
export type SimpleRatio = readonly [number, number]

/** The simplest ratio within 20 cents of an interval upwards; undefined where none of partials 1 to 8 is, and for a unison. */
export function simpleRatioNear(cents: Cents): SimpleRatio | undefined {
  const near = RATIOS.filter(([over, under]) => Math.abs(cents - centsBetween(over, under)) <= NEAR)
  return near.reduce<SimpleRatio | undefined>(
    (best, one) => (best && best[0] + best[1] <= one[0] + one[1] ? best : one),
    undefined,
  )
}

const RATIOS: readonly SimpleRatio[] = Array.from({ length: MOST }, (_, index) => index + 1).flatMap((over) =>
  Array.from({ length: over - 1 }, (_, index): SimpleRatio => [over, index + 1]).filter(
    ([, under]) => divisor(over, under) === 1,
  ),
)

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b)
}

/**
 * How often the partials of two pitches beat that would coincide if they were `over` to `under`: |under x upper - over x lower| (beats of upper partials,
 * any handbook of acoustics, such as Helmholtz, On the Sensations of Tone; from memory).
 */
export function partialBeats([over, under]: SimpleRatio, lower: Hz, upper: Hz): Hz {
  return Math.abs(under * upper - over * lower)
}
