import type { Millis } from './poll-timer.ts'

const FIRST: Millis = 3_000
const LONGEST: Millis = 12_000

/** Waits between tries of what did not work: 3 s, 6 s, then 12 s each. Immutable. */
export interface Backoff {
  readonly tries: number
  readonly due: Millis
}

export const RESTED: Backoff = { tries: 0, due: 0 }

export function failed(backoff: Backoff, now: Millis): Backoff {
  const wait = Math.min(LONGEST, FIRST * 2 ** Math.min(backoff.tries, 10))
  return { tries: backoff.tries + 1, due: now + wait }
}
