import type { Cents } from '../../../src/domain/units.ts'
import { HEARD_CENTS } from './pitch-rows.ts'

/** How far a picture of errors reaches up and down from nought, and where its lines are. */
export interface CentsScale {
  readonly limit: Cents
  /** From `-limit` to `limit`; nought among them. */
  readonly lines: readonly Cents[]
}

const STEPS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500] as const

/** At least so far that the lines of what is heard are in it; `isClose`: no farther than the errors are. */
export function centsScale(farthest: Cents, isClose: boolean): CentsScale {
  const reach = Math.max(isClose ? 0.02 : HEARD_CENTS * 1.4, farthest * 1.1)
  const step = STEPS.find((one) => reach / one <= 5) ?? 1000
  const count = Math.ceil(reach / step)
  const lines = Array.from({ length: 2 * count + 1 }, (_, index) =>
    Number(((index - count) * step).toFixed(2)),
  )
  return { limit: count * step, lines }
}
