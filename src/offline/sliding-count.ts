import type { Micros } from '../domain/units.ts'

/** Counts events in a window that ends at the newest one: times in (newest - window, newest]. */
export interface SlidingCount {
  /** The most events any window held. */
  readonly max: number
  /** Times never go back. */
  add(at: Micros): void
}

/** Keeps only the times still in the window; each is put in and taken out once. */
export function createSlidingCount(window: Micros): SlidingCount {
  let times: Micros[] = []
  let first = 0
  let max = 0
  return {
    get max() {
      return max
    },
    add(at) {
      times.push(at)
      while (times[first]! <= at - window) first++
      max = Math.max(max, times.length - first)
      if (first > 64 && first * 2 > times.length) {
        times = times.slice(first)
        first = 0
      }
    },
  }
}
