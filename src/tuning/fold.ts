import type { Hz } from '../domain/units.ts'

export interface Folded {
  readonly hz: Hz
  /** Octaves moved, up positive. */
  readonly octaves: number
}

/**
 * Moves `hz` by the fewest whole octaves into [lowHz, highHz], both ends included. Undefined where no octave of it lies
 * there (a range under an octave), and for anything that is not a finite rate above 0.
 */
export function foldIntoRange(hz: Hz, lowHz: Hz, highHz: Hz): Folded | undefined {
  if (![hz, lowHz, highHz].every((rate) => Number.isFinite(rate) && rate > 0) || lowHz > highHz)
    return undefined
  const octaves = hz < lowHz ? octavesUp(hz, lowHz) : hz > highHz ? -octavesDown(hz, highHz) : 0
  const folded = scale(hz, octaves)
  return folded >= lowHz && folded <= highHz ? { hz: folded, octaves } : undefined
}

/** Fewest octaves that lift `hz` to `lowHz` or above. */
function octavesUp(hz: Hz, lowHz: Hz): number {
  const guess = Math.max(1, Math.ceil(Math.log2(lowHz) - Math.log2(hz)) - 1)
  return guess + [0, 1, 2].findIndex((more) => scale(hz, guess + more) >= lowHz)
}

/** Fewest octaves that bring `hz` down to `highHz` or below. */
function octavesDown(hz: Hz, highHz: Hz): number {
  const guess = Math.max(1, Math.ceil(Math.log2(hz) - Math.log2(highHz)) - 1)
  return guess + [0, 1, 2].findIndex((more) => scale(hz, -guess - more) <= highHz)
}

// The logarithm is only a guess, off by one where a border is an exact octave away: the comparison decides, since a
// power of two changes nothing but the exponent. In two factors, as 2^1024 and up is past what a double holds.
function scale(hz: Hz, octaves: number): Hz {
  const half = Math.trunc(octaves / 2)
  return hz * 2 ** half * 2 ** (octaves - half)
}
