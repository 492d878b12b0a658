import { describe, expect, test } from 'vitest'
import type { ClockFixture } from '../../support/midi-clock.ts'
import { clockTimes } from '../../support/midi-clock.ts'
import { clockedAt, tempoOfClocks } from '../../../src/time/clock-tempo.ts'

/** The tempo shown after each clock, from `before` on. */
function shown(times: readonly number[], before: number): number[] {
  let last: readonly number[] = []
  let tempo = before
  return times.map((at) => {
    last = clockedAt(last, at, tempo)
    tempo = tempoOfClocks(last, tempo)
    return tempo
  })
}

describe('a steady machine at 120, its clocks as they come over a wire', () => {
  // From memory, common practice, no source: DIN MIDI within 1 ms, a computer's USB within some milliseconds; one that is busy sends bursts.
  test.each<[string, Partial<ClockFixture>]>([
    ['exact', {}],
    ['1 ms of jitter', { jitter: 1_000 }],
    ['5 ms of jitter', { jitter: 5_000 }],
    ['10 ms of jitter', { jitter: 10_000 }],
    ['looked for every 25 ms, so that some come at one time', { polled: 25_000 }],
    ['jitter and polling', { jitter: 4_000, polled: 16_000 }],
  ])('%s: it is within 1 of the truth from the first beat and a half on, over ten minutes', (_, how) => {
    for (const seed of [1, 2, 3]) {
      const tempos = shown(clockTimes({ bpm: 120, count: 28_800, seed, ...how }), 97)
      expect(tempos.slice(0, 36).every((tempo) => tempo === 97)).toBe(true)
      const worst = Math.max(...tempos.slice(36).map((tempo) => Math.abs(tempo - 120)))
      expect(worst).toBeLessThan(1)
    }
  })

  test('bursts really are bursts: some of the fixture’s clocks come at the same microsecond', () => {
    const times = clockTimes({ bpm: 120, count: 480, polled: 25_000 })
    const zeros = times.filter((at, clock) => clock > 0 && at === times[clock - 1])
    expect(zeros.length).toBeGreaterThan(50)
  })
})

test('it follows a ramp, two beats behind at most', () => {
  // 100 to 140 over 64 beats: 0.026 a clock, 1.25 in two beats.
  const bpm = (clock: number): number => 100 + Math.min(40, (clock / 24) * 0.625)
  const tempos = shown(clockTimes({ bpm, count: 24 * 70, jitter: 1_000 }), 100)
  const errors = tempos.map((tempo, clock) => Math.abs(tempo - bpm(clock))).slice(72)
  expect(Math.max(...errors)).toBeLessThan(1.25 + 0.5)
  expect(tempos.at(-1)).toBeCloseTo(140, 0)
})

test('a pause is no tempo: what comes after it does not make it jump', () => {
  const before = clockTimes({ bpm: 120, count: 96 })
  const after = clockTimes({ bpm: 120, count: 96, from: (before.at(-1) ?? 0) + 400_000 })
  for (const tempo of shown([...before, ...after], 120)) expect(tempo).toBeCloseTo(120, 1)
})

test.each([
  { what: 'all at one time', times: Array.from({ length: 200 }, () => 5), most: 120 },
  { what: 'a microsecond apart', times: Array.from({ length: 200 }, (_, clock) => clock), most: 1000 },
  { what: 'an hour apart', times: Array.from({ length: 60 }, (_, clock) => clock * 3.6e9), most: 120 },
])('it is finite whatever comes: $what', ({ times, most }) => {
  for (const tempo of shown(times, 120)) {
    expect(tempo).toBeGreaterThanOrEqual(10)
    expect(tempo).toBeLessThanOrEqual(most)
  }
})

test.each([20, 60, 97.0625, 240, 400])('it finds %d from anywhere', (bpm) => {
  for (const before of [20, 120, 400])
    expect(shown(clockTimes({ bpm, count: 73 }), before).at(-1)).toBeCloseTo(bpm, 1)
})
