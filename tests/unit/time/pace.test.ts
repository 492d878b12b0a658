import { expect, test } from 'vitest'
import { paceMicros } from '../../../src/time/pace.ts'

test('a note value follows the tempo', () => {
  expect(paceMicros({ every: '1/16' }, 120)).toBe(125_000)
  expect(paceMicros({ every: '1/16' }, 60)).toBe(250_000)
  expect(paceMicros({ every: '1/16' }, 97.0625)).toBeCloseTo(154_539.6007726, 6)
})

test('milliseconds do not', () => {
  expect(paceMicros({ everyMs: 90 }, 60)).toBe(90_000)
  expect(paceMicros({ everyMs: 90 }, 240)).toBe(90_000)
})

test('it is not rounded, so that only the sum is', () => {
  const step = paceMicros({ everyMs: 33.3333 }, 120)
  // An hour of them; rounded one by one they would be 36 ms short.
  expect(Math.round(step * 108_000)).toBe(3_599_996_400)
  expect(Math.round(step) * 108_000).toBe(3_599_964_000)
})

test('what is no note value is named', () => {
  expect(() => paceMicros({ every: 'often' }, 120)).toThrow(
    new RangeError('"often" is not a note value such as "1/16"'),
  )
})
