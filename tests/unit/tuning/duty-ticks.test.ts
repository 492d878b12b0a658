import { expect, test } from 'vitest'
import { dutyToTicks } from '../../../src/tuning/duty-ticks.ts'

test('half of a period, rounded half up', () => {
  expect(dutyToTicks(0.5, 36363)).toBe(18182)
  expect(dutyToTicks(0.5, 9)).toBe(5)
})

test('never darker than one tick, never longer than the period', () => {
  expect(dutyToTicks(0, 36363)).toBe(1)
  expect(dutyToTicks(0.00001, 1275)).toBe(1)
  expect(dutyToTicks(1, 36363)).toBe(36364)
  expect(dutyToTicks(1, 65535)).toBe(65536)
  expect(dutyToTicks(1.5, 99)).toBe(100)
})
