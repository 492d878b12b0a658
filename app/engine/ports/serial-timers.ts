import type { Micros } from '../../../src/domain/units.ts'
import type { SerialTimers } from './serial-system.ts'

const LONGEST_MS = 0x7fffffff

/** Timers of the system, on the clock that `now` reads. A call may be a millisecond or so late. */
export function systemTimers(now: () => Micros): SerialTimers {
  return {
    now,
    at(at, run) {
      const left = Math.ceil((at - now()) / 1000)
      const timer = setTimeout(run, Math.min(LONGEST_MS, Math.max(0, left)))
      return () => clearTimeout(timer)
    },
  }
}
