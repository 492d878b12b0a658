import type { FromEngine } from '../../../src/contract/from-engine.ts'
import type { Micros } from '../../../src/domain/units.ts'

type Bins = Extract<FromEngine, { type: 'figures' }>['latencyBins']

/** One bar: times above the slot before it, up to and including `upTo`. */
export interface LatencySlot {
  readonly upTo: Micros
  readonly count: number
}

/** More are never drawn: a thousandth of a millisecond to over an hour. */
const MOST_SLOTS = 32

/** The bins as bars each twice as long as the one before, with the empty ones between them; none where nothing was counted. */
export function latencySlots(bins: Bins): LatencySlot[] {
  const [first] = bins
  const last = bins.at(-1)
  if (!first || !last) return []
  const from = Math.max(0, Math.ceil(Math.log2(first.upTo) - 1e-9))
  const to = Math.max(from, Math.ceil(Math.log2(last.upTo) - 1e-9))
  const slots = Array.from({ length: Math.min(MOST_SLOTS, to - from + 1) }, (_, index) => 2 ** (from + index))
  return slots.map((upTo, index) => {
    const isLast = index === slots.length - 1
    const below = index === 0 ? -Infinity : upTo / 2
    const within = bins.filter((bin) => bin.upTo > below + 1e-6 && (isLast || bin.upTo <= upTo + 1e-6))
    return { upTo, count: within.reduce((sum, { count }) => sum + count, 0) }
  })
}

/** Milliseconds with three figures that bear on it: `0.21`, `1.4`, `12`, `350`. */
export function milliseconds(micros: Micros): string {
  return String(Number((micros / 1000).toPrecision(3)))
}
