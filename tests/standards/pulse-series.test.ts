import { describe, expect, test } from 'vitest'
import { belowFundamental, pulseHarmonic } from '../../src/domain/pulse-harmonics.ts'

// The Fourier series of a pulse train, as in any Fourier-series table; n = 1 to 5, signed, to five places, computed from the formula.
const TABLE: readonly (readonly [string, number, readonly number[]])[] = [
  ['1/2', 1 / 2, [0.63662, 0, -0.21221, 0, 0.12732]],
  ['1/4', 1 / 4, [0.45016, 0.31831, 0.15005, 0, -0.09003]],
  ['1/3', 1 / 3, [0.55133, 0.27566, 0, -0.13783, -0.11027]],
]

describe('harmonics of a pulse train against the table', () => {
  for (const [name, duty, expected] of TABLE) {
    test(`duty ${name}`, () => {
      const found = expected.map((_, index) => pulseHarmonic(index + 1, duty))
      found.forEach((value, index) => expect(value).toBeCloseTo(expected[index] ?? NaN, 5))
      // What the table has as 0 is 0, not nearly.
      expect(found.map((value) => value === 0)).toEqual(expected.map((value) => value === 0))
    })
  }
})

test('a square wave: odd harmonics fall as 1/n, even ones are not there (any Fourier-series table)', () => {
  for (let n = 1; n <= 63; n += 2) {
    expect(belowFundamental(n, 0.5)).toBeCloseTo(-20 * Math.log10(n), 9)
    expect(belowFundamental(n + 1, 0.5)).toBe(-Infinity)
  }
})

test('the sum of the harmonics is the pulse itself', () => {
  const duty = 0.3
  const light = (turn: number): number =>
    Array.from({ length: 20_000 }, (_, index) => index + 1).reduce(
      (sum, n) => sum + pulseHarmonic(n, duty) * Math.cos(2 * Math.PI * n * turn),
      duty,
    )
  // Away from the edges, at 0.15 of a period from the middle of the pulse.
  expect(light(0)).toBeCloseTo(1, 3)
  expect(light(0.1)).toBeCloseTo(1, 3)
  expect(light(0.2)).toBeCloseTo(0, 3)
  expect(light(0.5)).toBeCloseTo(0, 3)
})
