import { expect, test } from 'vitest'
import { foldIntoRange } from '../../../src/tuning/fold.ts'

test('a rate in range stays, borders included', () => {
  for (const hz of [20, 440, 4200]) expect(foldIntoRange(hz, 20, 4200)).toEqual({ hz, octaves: 0 })
})

test('below and above, by the fewest octaves', () => {
  expect(foldIntoRange(13.75, 20, 4200)).toEqual({ hz: 27.5, octaves: 1 })
  expect(foldIntoRange(13.75, 55, 4200)).toEqual({ hz: 55, octaves: 2 })
  expect(foldIntoRange(8800, 20, 4400)).toEqual({ hz: 4400, octaves: -1 })
})

test('a border that is an exact octave away is reached, whatever the logarithm rounds to', () => {
  for (let octaves = 1; octaves < 300; octaves++) {
    for (const hz of [440, 261.6255653005986, 41.20344461410875, 3]) {
      const up = hz * 2 ** octaves
      expect(foldIntoRange(hz, up, up)).toEqual({ hz: up, octaves })
      expect(foldIntoRange(up, hz, hz)).toEqual({ hz, octaves: -octaves })
    }
  }
})

test('a range under an octave may hold none', () => {
  expect(foldIntoRange(440, 450, 800)).toBeUndefined()
  expect(foldIntoRange(440, 300, 430)).toBeUndefined()
})

test('what is no rate folds nowhere', () => {
  for (const hz of [0, -440, NaN, Infinity, -Infinity]) {
    expect(foldIntoRange(hz, 20, 4200)).toBeUndefined()
    expect(foldIntoRange(440, hz, 4200)).toBeUndefined()
    expect(foldIntoRange(440, 20, hz)).toBeUndefined()
  }
})

test('the smallest and largest doubles fold too', () => {
  for (const hz of [Number.MIN_VALUE, Number.MAX_VALUE]) {
    const folded = foldIntoRange(hz, 20, 4200)
    expect(folded?.hz).toBeGreaterThanOrEqual(20)
    expect(folded?.hz).toBeLessThanOrEqual(4200)
  }
})
