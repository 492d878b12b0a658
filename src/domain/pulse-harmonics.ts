import type { Duty } from './units.ts'

/** A sine below this is nought: what binary fractions leave of it. */
const NOUGHT = 1e-9

/**
 * Harmonic `n` (whole, from 1) of light that is 1 for `duty` of each period and 0 for the rest, signed, seen from the middle of the pulse:
 * 2/(n pi) sin(n pi duty) (any Fourier-series table). Exactly 0 where it vanishes, which is where n x duty is a whole number. RangeError for other numbers.
 */
export function pulseHarmonic(n: number, duty: Duty): number {
  if (!Number.isInteger(n) || n < 1) throw new RangeError(`harmonics are counted from 1, got ${n}`)
  if (!(duty >= 0 && duty <= 1)) throw new RangeError(`a duty is 0 to 1, got ${duty}`)
  // Whole turns are taken out first, so that the sine of a multiple of pi is nought however high n is.
  const sine = Math.sin(Math.PI * ((n * duty) % 2))
  return Math.abs(sine) < NOUGHT ? 0 : (2 / (n * Math.PI)) * sine
}

/**
 * How far harmonic `n` lies below the first, in decibels: 0 or less, -Infinity where it vanishes; undefined where there is no first: light that is always on or
 * always off has no tone.
 */
export function belowFundamental(n: number, duty: Duty): number | undefined {
  const first = Math.abs(pulseHarmonic(1, duty))
  return first === 0 ? undefined : 20 * Math.log10(Math.abs(pulseHarmonic(n, duty)) / first)
}
