import type { Micros } from '../../domain/units.ts'
import { createSpanUnion } from './span-union.ts'

/** Time with something going on, whatever else goes on at the same time; no moment twice. Times never go back. */
export interface CoveredTime {
  /** One more goes on from here. */
  enter(at: Micros): void
  /** One of them ends. */
  leave(at: Micros): void
  /** It turns out that since `from`, at most `reach` ago, something went on. */
  cover(from: Micros, at: Micros): void
  total(at: Micros): Micros
  /** Nothing so far; what goes on counts from here. */
  renew(at: Micros): void
}

export function createCoveredTime(reach: Micros): CoveredTime {
  let spans = createSpanUnion(reach)
  let going = 0
  let since: Micros = 0
  return {
    enter(at) {
      if (going++ === 0) since = at
    },
    leave(at) {
      if (--going === 0 && since < at) spans.add(since, at)
    },
    cover(from, at) {
      // While something goes on, time from `since` on counts anyway.
      const to = going > 0 ? Math.min(at, since) : at
      if (from < to) spans.add(from, to)
    },
    total: (at) => spans.total() + (going > 0 ? at - since : 0),
    renew(at) {
      spans = createSpanUnion(reach)
      since = at
    },
  }
}
