import type { Bpm, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { CLOCKS_A_BEAT } from './clock-count.ts'

/** Two beats: jitter of a millisecond at both ends is then 0.2 % at 120. */
const MOST = 2 * CLOCKS_A_BEAT + 1
const SLOWEST: Bpm = 10
const FASTEST: Bpm = 1000

/** Times of the last clocks, with another one at `now`. */
export function clockedAt(times: readonly Micros[], now: Micros): Micros[] {
  return [...times.slice(1 - MOST), now]
}

/** The tempo of clocks, to be shown: the mean over those there are; `before` where they do not say. Always finite, 10 to 1000. */
export function tempoOfClocks(times: readonly Micros[], before: Bpm): Bpm {
  const [first = 0] = times
  const span = (times.at(-1) ?? 0) - first
  if (span <= 0) return before
  const bpm = ((times.length - 1) * 60 * MICROS_PER_SECOND) / (span * CLOCKS_A_BEAT)
  return Math.min(FASTEST, Math.max(SLOWEST, bpm))
}
