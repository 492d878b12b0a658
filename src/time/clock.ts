import type { Micros } from '../domain/units.ts'

/** Tells the time, and calls at a time. */
export interface Clock {
  /** Whole microseconds; never runs back. */
  now(): Micros
  /** Calls once at `at`, or as soon after as can be, never before `callAt` returns; replaces the call asked for before. Infinity: no call. */
  callAt(at: Micros, call: () => void): void
  /** No call any more. */
  stop(): void
}
