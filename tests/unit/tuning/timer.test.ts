import { expect, test } from 'vitest'
import { quantiseToTimer } from '../../../src/tuning/timer.ts'
import { TIMER_16MHZ } from '../../support/rig-outputs.ts'

test('the wire comes first: rate is Hz x 65536, rounded half up', () => {
  expect(quantiseToTimer(440, TIMER_16MHZ)?.drive.rate).toBe(440 * 65536)
  expect(quantiseToTimer(440 + 0.5 / 65536, TIMER_16MHZ)?.drive.rate).toBe(440 * 65536 + 1)
})

test('a period of exactly 2^16 ticks still fits, one more takes the next prescaler', () => {
  const { rate } = quantiseToTimer(16e6 / 65536, TIMER_16MHZ)?.drive ?? { rate: 0 }
  expect(quantiseToTimer(rate / 65536, TIMER_16MHZ)?.drive).toMatchObject({ prescaler: 1, top: 65535 })
  expect(quantiseToTimer(16e6 / 65537, TIMER_16MHZ)?.drive).toMatchObject({ prescaler: 8, top: 8191 })
})

test('a period half-way between two ticks is rounded up', () => {
  const timer = { clockHz: 7, prescalers: [1], bits: 16 }
  expect(quantiseToTimer(2, timer)?.drive.top).toBe(3)
})

test('no prescaler is coarse enough, a pulse has no room, the wire ends', () => {
  expect(quantiseToTimer(0.2, TIMER_16MHZ)).toBeUndefined()
  expect(quantiseToTimer(1000, { clockHz: 1400, prescalers: [1], bits: 16 })).toBeUndefined()
  expect(quantiseToTimer(1000, { clockHz: 1500, prescalers: [1], bits: 16 })?.drive.top).toBe(1)
  expect(quantiseToTimer(65536, TIMER_16MHZ)).toBeUndefined()
  expect(quantiseToTimer(65535.9, TIMER_16MHZ)).toBeDefined()
})

test('what is no rate has no timer', () => {
  for (const hz of [0, -1, NaN, Infinity, 1e-9]) expect(quantiseToTimer(hz, TIMER_16MHZ)).toBeUndefined()
})
