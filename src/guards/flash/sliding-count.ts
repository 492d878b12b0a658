import type { Micros } from '../../domain/units.ts'

/** Counts events in a window that ends at the newest one: times in (newest - window, newest]. */
export interface SlidingCount {
  /** The most events any window held. */
  readonly max: number
  /** Times never go back. */
  add(at: Micros): void
  /** Events in (at - window, at], `at` not before the newest. */
  upTo(at: Micros): number
  /** None so far. */
  clear(): void
}

/** Keeps only the times still in the window; each is put in and taken out once. */
export function createSlidingCount(window: Micros): SlidingCount {
  let times: Micros[] = []
  let first = 0
  let max = 0

  function forget(until: Micros): void {
    while (first < times.length && times[first]! <= until) first++
    if (first > 64 && first * 2 > times.length) {
      times = times.slice(first)
      first = 0
    }
  }

  return {
    get max() {
      return max
    },
    add(at) {
      times.push(at)
      forget(at - window)
      max = Math.max(max, times.length - first)
    },
    upTo(at) {
      forget(at - window)
      return times.length - first
    },
    clear() {
      times = []
      first = 0
      max = 0
    },
  }
}
