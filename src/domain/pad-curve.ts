import type { Velocity } from './units.ts'

/**
 * How strong a hit is taken to be, by how it was struck. `soft`: soft playing counts for more; `hard`: only hard playing counts. A list of points
 * [struck, taken], struck rising and taken not falling, all 1 to 127: straight lines between them, level before the first and after the last.
 */
export type PadCurve = 'linear' | 'soft' | 'hard' | readonly (readonly [Velocity, Velocity])[]

/** The strongest a MIDI strike can be; the softest is 1. */
const MOST = 127

/**
 * The strength, 1 to 127, that a hit of strength `struck`, 1 to 127, is taken to have. With x = (struck - 1) / 126: `soft` is 1 + 126 sqrt(x), `hard` is
 * 1 + 126 x^2, each the other's reverse (common practice, no source), rounded, halves up. Both leave 1 and 127 where they are.
 */
export function curved(curve: PadCurve, struck: Velocity): Velocity {
  const share = (struck - 1) / (MOST - 1)
  switch (curve) {
    case 'linear':
      return struck
    case 'soft':
      return Math.round(1 + (MOST - 1) * Math.sqrt(share))
    case 'hard':
      return Math.round(1 + (MOST - 1) * share * share)
    default:
      return between(curve, struck)
  }
}

function between(points: readonly (readonly [Velocity, Velocity])[], struck: Velocity): Velocity {
  const after = points.findIndex(([from]) => from >= struck)
  const next = points[after]
  if (!next) return points.at(-1)?.[1] ?? struck
  const before = points[after - 1]
  if (!before) return next[1]
  return Math.round(before[1] + ((next[1] - before[1]) * (struck - before[0])) / (next[0] - before[0]))
}
