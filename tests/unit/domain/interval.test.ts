import fc from 'fast-check'
import { expect, test } from 'vitest'
import { beating, coincidences } from '../../../src/domain/interval.ts'
import { midiKeyToHz, shiftByCents } from '../../../src/domain/pitch.ts'
import { checkProperty } from '../../support/property.ts'

/** Beats a second from middle C up in equal temperament, as piano tuners' tables have them (from memory; any piano tuning handbook). */
test.each([
  ['minor third', 63, 6, 5, 14.12],
  ['major third', 64, 5, 4, 10.38],
  ['fourth', 65, 4, 3, 1.18],
  ['fifth', 67, 3, 2, 0.89],
  ['major sixth', 69, 5, 3, 11.87],
])('a %s over middle C', (_, key, low, high, beats) => {
  const [found] = coincidences(midiKeyToHz(60), midiKeyToHz(key))
  expect(found).toMatchObject({ low, high })
  expect(found?.beats).toBeCloseTo(beats, 2)
})

test('how far tempered intervals are off, in cents', () => {
  // Fifths are 1.955 narrow, thirds 13.686 wide (1200 log2 of 3/2 and 5/4 against 700 and 400).
  expect(coincidences(midiKeyToHz(60), midiKeyToHz(67))[0]?.off).toBeCloseTo(-1.955, 3)
  expect(coincidences(midiKeyToHz(64), midiKeyToHz(60))[0]?.off).toBeCloseTo(13.686, 3)
})

test('unisons meet partial by partial, octaves every second one, and a tritone meets only high up', () => {
  expect(coincidences(440, 442)).toEqual([{ low: 1, high: 1, off: expect.closeTo(7.851, 3), beats: 2 }])
  expect(coincidences(440, 881)[0]).toMatchObject({ low: 2, high: 1, beats: 1 })
  expect(coincidences(midiKeyToHz(60), midiKeyToHz(66)).map(({ low, high }) => [low, high])).toEqual([[7, 5]])
})

test('an exact ratio does not beat, whatever its pitch and the order of the two', () => {
  checkProperty(
    'pure ratios',
    fc.property(
      fc.integer({ min: 1, max: 8 }),
      fc.integer({ min: 1, max: 8 }),
      fc.integer({ min: 20, max: 500 }),
      fc.double({ min: -30, max: 30, noNaN: true }),
      (over, under, unit, off) => {
        const [one, other] = [unit * under, unit * over]
        const [pure] = coincidences(one, other)
        expect(pure).toMatchObject({ off: 0, beats: 0 })
        expect((pure?.low ?? 0) / (pure?.high ?? 0)).toBe(Math.max(over, under) / Math.min(over, under))
        const bent = shiftByCents(other, off)
        expect(coincidences(one, bent)).toEqual(coincidences(bent, one))
      },
    ),
  )
})

test('rates that beat are their difference; rates at fault are told', () => {
  expect(beating(261, 263.5)).toBe(2.5)
  expect(() => coincidences(0, 440)).toThrow(RangeError)
  expect(() => coincidences(440, Number.NaN)).toThrow(RangeError)
})
