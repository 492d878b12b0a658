import type { Beats, Bpm, Micros } from '../domain/units.ts'

/** MIDI 1.0 Detailed Specification, System Real Time: 24 timing clocks a quarter note. */
export const CLOCKS_A_BEAT = 24
/** Tempos are whole billionths of a beat a minute: exact for four decimals, and 0.02 microseconds an hour off for any other. */
const TEMPO_UNITS = 1_000_000_000
/** One part passes in a microsecond at one unit of tempo; a clock has 60 s / 24 of them for each beat a minute. Under 2^53, so a number holds it. */
const PARTS = BigInt(60_000_000 / CLOCKS_A_BEAT) * BigInt(TEMPO_UNITS)

/** A place between two clocks: whole clocks since beat 0, and parts of the next. JSON-safe, and exact. */
export interface ClockPlace {
  readonly clocks: number
  readonly parts: number
}

/** A count of MIDI clocks that runs with the tempo: at the time `at` it stood at that place. */
export interface ClockCount extends ClockPlace {
  readonly at: Micros
  /** Billionths of a beat a minute; more than 0. */
  readonly units: number
}

export function startCount(at: Micros, tempo: Bpm, place: ClockPlace = { clocks: 0, parts: 0 }): ClockCount {
  return { at, clocks: place.clocks, parts: place.parts, units: Math.round(tempo * TEMPO_UNITS) }
}

/** Beats 0 and more, as far as a number says them. */
export function placeOfBeats(beats: Beats): ClockPlace {
  const clocks = Math.floor(beats * CLOCKS_A_BEAT)
  const parts = Math.round((beats * CLOCKS_A_BEAT - clocks) * Number(PARTS))
  return parts >= Number(PARTS) ? { clocks: clocks + 1, parts: 0 } : { clocks, parts }
}

export function beatsOfPlace({ clocks, parts }: ClockPlace): Beats {
  return (clocks + parts / Number(PARTS)) / CLOCKS_A_BEAT
}

/** Where the count stands at a time that is not before its own. */
export function placeAt({ at, clocks, parts, units }: ClockCount, time: Micros): ClockPlace {
  const passed = BigInt(parts) + BigInt(time - at) * BigInt(units)
  return { clocks: clocks + Number(passed / PARTS), parts: Number(passed % PARTS) }
}

/** When clock number `clock` is due, to the nearest microsecond: worked out from the number alone, so that nothing adds up. */
export function timeOfClock({ at, clocks, parts, units }: ClockCount, clock: number): Micros {
  const left = BigInt(clock - clocks) * PARTS - BigInt(parts)
  return at + Number(floorDivide(2n * left + BigInt(units), 2n * BigInt(units)))
}

/** The count at another tempo from `now` on. */
export function countAtTempo(count: ClockCount, tempo: Bpm, now: Micros): ClockCount {
  return startCount(now, tempo, placeAt(count, now))
}

/** The first clock that is due later than `time`. */
export function clockAfter(count: ClockCount, time: Micros): number {
  // One that the nearest microsecond makes early may count as past already.
  let clock = placeAt(count, time).clocks
  while (timeOfClock(count, clock) <= time) clock++
  return clock
}

function floorDivide(value: bigint, by: bigint): bigint {
  const quotient = value / by
  return value % by < 0n ? quotient - 1n : quotient
}
