import fc from 'fast-check'
import { expect, test } from 'vitest'
import { belowFundamental, pulseHarmonic } from '../../../src/domain/pulse-harmonics.ts'
import { pulseHarmonic as reference } from '../../support/rendered-pulse.ts'
import { checkProperty } from '../../support/property.ts'

test('every q-th harmonic of p/q vanishes, and no other', () => {
  for (let q = 2; q <= 16; q++) {
    for (let p = 1; p < q; p++) {
      const lowest = q / gcd(p, q)
      for (let n = 1; n <= 64; n++) expect(pulseHarmonic(n, p / q) === 0).toBe(n % lowest === 0)
    }
  }
})

test('light that is always on, or always off, has no tone', () => {
  for (const duty of [0, 1]) {
    expect(pulseHarmonic(1, duty)).toBe(0)
    expect(belowFundamental(1, duty)).toBeUndefined()
  }
})

test('no harmonic is above the first, a duty and the rest of the period sound the same', () => {
  checkProperty(
    'harmonics of any duty',
    fc.property(
      fc.integer({ min: 1, max: 200 }),
      fc.double({ min: 0.001, max: 0.999, noNaN: true }),
      (n, duty) => {
        expect(belowFundamental(n, duty)).toBeLessThanOrEqual(1e-9)
        expect(Math.abs(pulseHarmonic(n, duty))).toBeCloseTo(Math.abs(pulseHarmonic(n, 1 - duty)), 9)
        expect(Math.abs(pulseHarmonic(n, duty))).toBeCloseTo(reference(n, duty), 8)
      },
    ),
  )
})

test('numbers that are none of a harmonic or a duty', () => {
  expect(() => pulseHarmonic(0, 0.5)).toThrow('harmonics are counted from 1, got 0')
  expect(() => pulseHarmonic(1.5, 0.5)).toThrow(RangeError)
  expect(() => pulseHarmonic(1, 1.01)).toThrow('a duty is 0 to 1, got 1.01')
  expect(() => pulseHarmonic(1, NaN)).toThrow(RangeError)
})

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b)
}
