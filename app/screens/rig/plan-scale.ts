import type { Lamp } from '../../../src/domain/rig.ts'

type Place = Pick<Lamp, 'x' | 'y'>

/** How the plan of a rig is drawn: which piece of the wall it shows, in the lamps' own units. */
export interface PlanScale {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

/** Never less than this is shown, so that one lamp, or a row of them, does not fill the plan. */
const LEAST_WIDTH = 6
const LEAST_HEIGHT = 2.4
const MARGIN = 1

/** All lamps, with a margin around. */
export function planScale(lamps: readonly Place[]): PlanScale {
  const across = span(
    lamps.map(({ x }) => x),
    LEAST_WIDTH,
  )
  const up = span(
    lamps.map(({ y }) => y),
    LEAST_HEIGHT,
  )
  return { left: across.low, top: up.low + up.size, width: across.size, height: up.size }
}

function span(values: readonly number[], least: number): { readonly low: number; readonly size: number } {
  if (values.length === 0) return { low: -least / 2, size: least }
  const low = Math.min(...values)
  const high = Math.max(...values)
  const size = Math.max(least, high - low + 2 * MARGIN)
  return { low: (low + high - size) / 2, size }
}

/** Where on the plan, as fractions of its width and height from its top left; up is up. */
export function planPlace({ left, top, width, height }: PlanScale, { x, y }: Place) {
  return { across: (x - left) / width, down: (top - y) / height }
}

/** A coordinate after a step; to a thousandth, without the crumbs of binary fractions. */
export function nudged(value: number, by: number): number {
  return Number((value + by).toFixed(3))
}
