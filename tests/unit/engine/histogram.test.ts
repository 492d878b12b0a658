import { expect, test } from 'vitest'
import { Histogram } from '../../../app/engine/histogram.ts'

test('shares are right to within two per cent', () => {
  const histogram = new Histogram()
  for (let micros = 1; micros <= 10_000; micros++) histogram.add(micros)
  const { count, p50, p95, p99, max } = histogram.spread()
  expect(count).toBe(10_000)
  expect(Math.abs(p50 / 5000 - 1)).toBeLessThan(0.025)
  expect(Math.abs(p95 / 9500 - 1)).toBeLessThan(0.025)
  expect(Math.abs(p99 / 9900 - 1)).toBeLessThan(0.025)
  expect(max).toBe(10_000)
})

test('nothing, zero and very long times are told as they are', () => {
  expect(new Histogram().spread()).toEqual({ count: 0, p50: 0, p95: 0, p99: 0, max: 0 })
  const histogram = new Histogram()
  histogram.add(0)
  histogram.add(1e12)
  expect(histogram.spread().max).toBe(1e12)
})

test('bins end at powers of two, up to and including them; empty ones are left out', () => {
  expect(new Histogram().bins()).toEqual([])
  const histogram = new Histogram()
  for (const micros of [0, 1, 2, 3, 4, 5, 1024, 1025, 1e12, 1e15]) histogram.add(micros)
  expect(histogram.bins()).toEqual([
    { upTo: 1, count: 2 },
    { upTo: 2, count: 1 },
    { upTo: 4, count: 2 },
    { upTo: 8, count: 1 },
    { upTo: 1024, count: 1 },
    { upTo: 2048, count: 1 },
    { upTo: 2 ** 40, count: 1 },
    { upTo: 2 ** 41, count: 1 },
  ])
})

test('every power of two ends its own bin, and the next microsecond begins another', () => {
  for (let octave = 1; octave < 40; octave++) {
    const histogram = new Histogram()
    histogram.add(2 ** octave)
    histogram.add(2 ** octave + 1)
    expect(histogram.bins().map(({ upTo }) => upTo)).toEqual([2 ** octave, 2 ** (octave + 1)])
  }
})
