import fc from 'fast-check'
import { expect, test } from 'vitest'
import { degreesText, readDegrees } from '../../../../app/screens/tuning/degrees-text.ts'
import { pitchesText, pitchesWords, readPitches } from '../../../../app/screens/tuning/pitch-text.ts'
import { tuningSchema } from '../../../../src/show/tuning-schema.ts'
import { checkProperty } from '../../../support/property.ts'

test('with a point they are cents, without one ratios, as in scale files; one a line or several', () => {
  expect(readPitches('3/2\n701.955\n2').pitches).toEqual(['3/2', 701.955, '2'])
  expect(readPitches('9/8, 5/4; 4/3 700.\t2/1,\n').pitches).toEqual(['9/8', '5/4', '4/3', 700, '2/1'])
  expect(readPitches(' -5.0  \u22125.5 .25 +100.').pitches).toEqual([-5, -5.5, 0.25, 100])
  expect(readPitches('\n \n')).toEqual({ pitches: [], faults: [] })
})

test('what cannot be taken is told at its line', () => {
  const text = '9/8\n3/0 5/4\nthird\n701,955\n-3/2\n-7\n1e3\n999999.0\n2'
  const { pitches, faults } = readPitches(text)
  expect(pitches).toEqual(['9/8', '5/4', '2'])
  expect(faults.map((fault) => fault.slice(0, fault.indexOf(';')))).toEqual([
    'Line 2: found 3/0',
    'Line 3: found third',
    'Line 4: found 701,955',
    'Line 5: found -3/2',
    'Line 6: found -7',
    'Line 7: found 1e3',
    'Line 8: found 999999.0',
  ])
  expect(faults[2]).toContain('written with a point')
  expect(faults[4]).toContain('cents need a point')
  expect(readPitches('2 '.repeat(1001)).faults).toEqual(['There are 1001 pitches; expected 1000 at most.'])
})

test('what a show holds is written such that it is read as the same again', () => {
  const ratio = fc
    .tuple(fc.integer({ min: 1, max: 1e9 }), fc.integer({ min: 1, max: 1e9 }))
    .map(([over, under]) => `${over}/${under}`)
  const cents = fc
    .double({ min: -120_000, max: 120_000, noNaN: true })
    .map((one) => (Object.is(one, -0) ? 0 : one))
  checkProperty(
    'pitches in text',
    fc.property(
      fc.array(fc.oneof(ratio, cents, fc.integer({ min: -1200, max: 1200 })), { maxLength: 20 }),
      (pitches) => {
        expect(readPitches(pitchesText(pitches))).toEqual({ pitches, faults: [] })
      },
    ),
  )
})

test('whatever is typed, what is taken is what a show may hold', () => {
  checkProperty(
    'typed pitches',
    fc.property(fc.string({ unit: fc.constantFrom(...'0129/.,- \n;x'), maxLength: 40 }), (text) => {
      const { pitches } = readPitches(text)
      const tuning = { id: 'a', kind: 'scale', pitches, refNote: 60, refHz: 260 }
      expect(tuningSchema.safeParse(tuning).success).toBe(true)
    }),
  )
})

test('a scale in a sentence', () => {
  expect(pitchesWords(['9/8', '2'])).toBe('2 pitches; it repeats at 2, 1200 cents.')
  // 3/1 is 1901.955 cents.
  expect(pitchesWords(['3'])).toBe('1 pitch; it repeats at 3, 1901.955 cents.')
  expect(pitchesWords([100.5])).toBe('1 pitch; it repeats at 100.5 cents.')
  expect(pitchesWords([])).toContain('every key sounds')
})

test('degrees of a key map', () => {
  expect(readDegrees('0 2, 4 x X -1 \u22122')).toEqual([0, 2, 4, null, null, -1, -2])
  expect(readDegrees('')).toEqual([])
  for (const text of ['0 y', '1.5', '0 '.repeat(129), '10001'])
    expect(readDegrees(text)).toHaveProperty('fault')
  checkProperty(
    'degrees in text',
    fc.property(
      fc.array(fc.option(fc.integer({ min: -10_000, max: 10_000 })), { maxLength: 128 }),
      (degrees) => {
        expect(readDegrees(degreesText(degrees))).toEqual(degrees)
      },
    ),
  )
})
