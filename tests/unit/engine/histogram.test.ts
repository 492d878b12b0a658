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
