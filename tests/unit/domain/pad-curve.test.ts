import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { PadCurve } from '../../../src/domain/pad-curve.ts'
import { curved } from '../../../src/domain/pad-curve.ts'
import { checkProperty } from '../../support/property.ts'

// By hand: x = (in - 1) / 126; soft 1 + 126 sqrt(x), hard 1 + 126 x^2.
describe.each([
  ['linear', [1, 2, 15, 32, 64, 95, 127], [1, 2, 15, 32, 64, 95, 127]],
  // x = 0, 1/126, 1/9, 31/126, 1/2, 94/126, 1.
  ['soft', [1, 2, 15, 32, 64, 95, 127], [1, 12, 43, 63, 90, 110, 127]],
  // The same squared: 126/81 = 1.56, 31^2/126 = 7.63, 31.5, 94^2/126 = 70.1.
  ['hard', [1, 2, 15, 32, 64, 95, 127], [1, 1, 3, 9, 33, 71, 127]],
] as const)('%s', (curve, struck, taken) => {
  test('is its formula, rounded, halves up', () => {
    expect(struck.map((one) => curved(curve, one))).toEqual(taken)
  })
})

describe('points', () => {
  const points: PadCurve = [
    [10, 40],
    [50, 60],
    [100, 60],
    [101, 120],
  ]

  test('straight between them, level before the first and after the last', () => {
    const struck = [1, 10, 11, 12, 30, 50, 75, 100, 101, 127]
    // From 10 to 50 half a step each: 40.5 is rounded up.
    expect(struck.map((one) => curved(points, one))).toEqual([40, 40, 41, 41, 50, 60, 60, 60, 120, 120])
  })

  test('one alone makes all hits as strong', () => {
    expect([1, 64, 127].map((one) => curved([[64, 99]], one))).toEqual([99, 99, 99])
  })
})

const velocity = fc.integer({ min: 1, max: 127 })
const points = fc.uniqueArray(velocity, { minLength: 1, maxLength: 16 }).chain((ins) =>
  fc.array(velocity, { minLength: ins.length, maxLength: ins.length }).map((outs): PadCurve => {
    const sorted = outs.toSorted((a, b) => a - b)
    return ins.toSorted((a, b) => a - b).map((one, place) => [one, sorted[place] ?? 1] as const)
  }),
)

test('any curve rises or is level, stays within 1 to 127 in whole numbers, and goes through its points', () => {
  checkProperty(
    'curves',
    fc.property(fc.oneof(fc.constantFrom<PadCurve>('linear', 'soft', 'hard'), points), (curve) => {
      const taken = Array.from({ length: 127 }, (_, place) => curved(curve, place + 1))
      for (const [place, one] of taken.entries()) {
        expect(Number.isInteger(one) && one >= 1 && one <= 127).toBe(true)
        expect(one).toBeGreaterThanOrEqual(taken[place - 1] ?? 1)
      }
      const given = typeof curve === 'string' ? [] : curve
      expect(given.map(([from]) => taken[from - 1])).toEqual(given.map(([, to]) => to))
    }),
  )
})
