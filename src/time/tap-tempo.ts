import type { Bpm, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'

/** Taps further apart begin anew. */
const LONGEST: Micros = 2 * MICROS_PER_SECOND
/** Of so many intervals the mean is taken. */
const MOST = 8
/** An interval so many times the middle one, or so small a part of it, is a tap missed, doubled or astray. */
const WILD = 1.3

export const SLOWEST: Bpm = 20
export const FASTEST: Bpm = 400

/** A tempo as a show keeps it: to four decimals, 20 to 400. */
export function tempoWithin(bpm: number): Bpm {
  return Math.min(FASTEST, Math.max(SLOWEST, Math.round(bpm * 10_000) / 10_000))
}

/** The taps that count, with another one at `now`. */
export function tapped(taps: readonly Micros[], now: Micros): Micros[] {
  const last = taps.at(-1)
  if (last === undefined || now - last > LONGEST) return [now]
  return [...taps, now].slice(-MOST - 1)
}

/** The tempo of taps; undefined for fewer than two. Intervals far from the middle one are left out. */
export function tempoOfTaps(taps: readonly Micros[]): Bpm | undefined {
  const spans = taps.slice(1).map((at, place) => at - (taps[place] ?? at))
  const middle = spans.toSorted((a, b) => a - b)[Math.floor(spans.length / 2)]
  if (!middle) return undefined
  const kept = spans.filter((span) => span < middle * WILD && span > middle / WILD)
  const mean = kept.reduce((sum, span) => sum + span, 0) / kept.length
  return tempoWithin((60 * MICROS_PER_SECOND) / mean)
}
