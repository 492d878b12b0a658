import { expect, test } from 'vitest'
import { centsBetween } from '../../../src/domain/pitch.ts'
import type { EqualTuning } from '../../../src/domain/tuning-spec.ts'
import { equalKeyToHz as hzOf } from '../../../src/tuning/equal.ts'

const EVEN: EqualTuning = {
  id: 'even',
  kind: 'equal',
  steps: 12,
  periodCents: 1200,
  refNote: 69,
  refHz: 440,
}

// Computed from the formula 440 x 2^((n - 69) / 12), to six places.
test.each([
  [21, 27.5],
  [28, 41.203445],
  [60, 261.625565],
  [69, 440],
  [108, 4186.009045],
])('key %i is %f Hz', (key, hz) => {
  expect(hzOf(EVEN, key)).toBeCloseTo(hz, 6)
})

// Computed from the formula 1200 log2(ratio).
test.each([
  ['3/2', 3 / 2, 701.955001],
  ['5/4', 5 / 4, 386.313714],
  ['7/4', 7 / 4, 968.825906],
  ['81/80', 81 / 80, 21.50629],
  ['the quarter-comma fifth', 5 ** (1 / 4), 696.578428],
  ['a thirteenth of 3/1', 3 ** (1 / 13), 146.304231],
])('%s is so many cents', (_name, ratio, cents) => {
  expect(centsBetween(ratio, 1)).toBeCloseTo(cents, 6)
})

test('thirteen equal parts of 3/1: each key 146.304231 cents up, the thirteenth three times the rate', () => {
  const parts: EqualTuning = { ...EVEN, steps: 13, periodCents: centsBetween(3, 1), refNote: 60, refHz: 262 }
  for (let key = -20; key < 140; key++) {
    expect(centsBetween(hzOf(parts, key + 1), hzOf(parts, key))).toBeCloseTo(146.304231, 6)
    expect(hzOf(parts, key + 13) / hzOf(parts, key)).toBeCloseTo(3, 12)
  }
  expect(hzOf(parts, 60)).toBe(262)
})
