/** Milliseconds that only ever go up. */
export type Millis = number

/** What polling needs of time; tests hand in their own. */
export interface PollTimer {
  now(): Millis
  /** Runs `run` once, `wait` from now. The answer calls it off. */
  after(wait: Millis, run: () => void): () => void
}

export const realTimer: PollTimer = {
  now: () => performance.now(),
  after: (wait, run) => {
    const timer = setTimeout(run, wait)
    return () => clearTimeout(timer)
  },
}
