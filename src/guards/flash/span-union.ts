import type { Micros } from '../../domain/units.ts'

/** Adds up time covered by any of many spans, counting no moment twice. */
export interface SpanUnion {
  /** Ends of successive spans never go back. A span that starts more than `reach` before its end must not overlap an earlier one. */
  add(from: Micros, to: Micros): void
  total(): Micros
}

/** Remembers only spans that a later one could still touch. */
export function createSpanUnion(reach: Micros): SpanUnion {
  const open: { from: Micros; to: Micros }[] = []
  let closed = 0
  return {
    add(from, to) {
      let start = from
      while (open.length > 0 && open.at(-1)!.to >= start) start = Math.min(start, open.pop()!.from)
      while (open.length > 0 && open[0]!.to < to - reach) {
        const { from: a, to: b } = open.shift()!
        closed += b - a
      }
      open.push({ from: start, to })
    },
    total: () => open.reduce((sum, { from, to }) => sum + to - from, closed),
  }
}
