import type { Bpm, Micros } from '../domain/units.ts'
import { MICROS_PER_MS, MICROS_PER_SECOND } from '../domain/units.ts'
import { CLOCKS_A_BEAT } from './clock-count.ts'

/** Three beats are looked at, and less than one and a half say nothing yet: bursts and jitter would make it jump. */
const MOST = 3 * CLOCKS_A_BEAT + 1
const LEAST = 1.5 * CLOCKS_A_BEAT + 1
const SLOWEST: Bpm = 10
const FASTEST: Bpm = 1000
/** A pause this long, and so many spans, is no tempo: what comes after it is looked at by itself. */
const PAUSE: Micros = 250 * MICROS_PER_MS
const PAUSE_SPANS = 6

/** Microseconds from clock to clock, not rounded. */
export function clockSpan(tempo: Bpm): number {
  return (60 * MICROS_PER_SECOND) / (tempo * CLOCKS_A_BEAT)
}

/** Times of the last clocks, with another one at `now`; `tempo`: what they were thought to have. */
export function clockedAt(times: readonly Micros[], now: Micros, tempo: Bpm): Micros[] {
  const last = times.at(-1)
  const isPaused = last !== undefined && now - last > Math.max(PAUSE, PAUSE_SPANS * clockSpan(tempo))
  return isPaused ? [now] : [...times.slice(1 - MOST), now]
}

/**
 * The tempo of clocks, to be shown: the slope of the line of least squares through their times, which one clock that is early or late hardly turns; `before`
 * where there are too few to say. Always finite, 10 to 1000.
 */
export function tempoOfClocks(times: readonly Micros[], before: Bpm): Bpm {
  if (times.length < LEAST) return before
  const first = times[0] ?? 0
  const middle = (times.length - 1) / 2
  let moment = 0
  let weight = 0
  times.forEach((at, place) => {
    moment += (place - middle) * (at - first)
    weight += (place - middle) ** 2
  })
  const span = moment / weight
  if (!(span > 0)) return before
  return Math.min(FASTEST, Math.max(SLOWEST, (60 * MICROS_PER_SECOND) / (span * CLOCKS_A_BEAT)))
}
