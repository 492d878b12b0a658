import { expect, test } from 'vitest'
import { PARTIALS, partialsOf, partialsWords } from '../../../../app/screens/tuning/partials.ts'

test('sixteen partials, with size and how far below the first', () => {
  const partials = partialsOf(0.25)
  expect(partials.map(({ n }) => n)).toEqual(Array.from({ length: PARTIALS }, (_, index) => index + 1))
  // Any Fourier-series table: 0.45016 and 0.31831 are 3.01 dB apart.
  expect(partials[1]?.size).toBeCloseTo(0.31831, 5)
  expect(partials[1]?.below).toBeCloseTo(-3.0103, 3)
  expect(partials[3]).toEqual({ n: 4, size: 0, below: -Infinity })
})

test('what is missing, by name', () => {
  expect(partialsWords(0.5)).toBe('Every 2nd partial vanishes at a duty of 1/2.')
  expect(partialsWords(1 / 3)).toBe('Every 3rd partial vanishes at a duty of 1/3.')
  expect(partialsWords(0.4)).toBe('Every 5th partial vanishes at a duty of 2/5.')
  expect(partialsWords(0.33)).toBe('Partials 3, 6, 9, 12, 15 nearly vanish: more than 30 dB below the first.')
  expect(partialsWords(0.013)).toBe('None of the first 16 partials vanishes.')
  expect(partialsWords(1)).toBe('Light that is always on has no tone.')
  expect(partialsWords(0)).toBe('Light that is always off has no tone.')
  expect(partialsOf(1)).toEqual([])
})
