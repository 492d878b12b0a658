import { expect, test } from 'vitest'
import { centsScale } from '../../../../app/screens/tuning/cents-scale.ts'
import {
  fineHertz,
  keyWords,
  octaveWords,
  tallyWords,
  tuningWords,
} from '../../../../app/screens/tuning/tuning-words.ts'

const nameOf = (lamp: string): string => lamp.toUpperCase()

test('keys, rates and octaves', () => {
  expect([keyWords(60), keyWords(69), keyWords(0)]).toEqual(['C4 (60)', 'A4 (69)', 'C\u22121 (0)'])
  expect([27.5, 440, 4186.009].map(fineHertz)).toEqual(['27.5000', '440.000', '4186.01'])
  expect([0, 2, -1, null].map(octaveWords)).toEqual(['', '2 up', '1 down', 'refused'])
})

test('errors in sentences', () => {
  const row = { key: 69, asked: 440, octaves: 0, hz: 440, realHz: 439.9956, cents: -0.0173 }
  expect(
    tallyWords({ worst: { lamp: 'fern', row }, pitches: 12, heard: 0, refused: [], unmapped: 0 }, nameOf),
  ).toBe(
    'Farthest off: A4 (69) on FERN, \u22120.02 cents: 440.000 Hz wanted, 439.996 Hz made. No pitch is more than 5 cents off.',
  )
  const off = { ...row, cents: 31.5 }
  expect(
    tallyWords(
      {
        worst: { lamp: 'fern', row: off },
        pitches: 12,
        heard: 3,
        refused: [{ lamp: 'palm', keys: 4 }],
        unmapped: 0,
      },
      nameOf,
    ),
  ).toContain(
    '+31.5 cents: 440.000 Hz wanted, 439.996 Hz made. 3 of 12 pitches are more than 5 cents off. Refused keys: PALM 4.',
  )
  expect(
    tallyWords({ pitches: 2, heard: 0, refused: [{ lamp: 'palm', keys: 2 }], unmapped: 0 }, nameOf),
  ).toContain('No lamp')
  expect(tallyWords({ pitches: 0, heard: 0, refused: [], unmapped: 0 }, nameOf)).toContain('lights none')
})

test('keys that are not mapped are told apart from refused ones', () => {
  const row = { key: 69, asked: 440, octaves: 0, hz: 440, realHz: 440, cents: 0 }
  const worst = { lamp: 'fern', row }
  const words = (unmapped: number) =>
    tallyWords({ worst, pitches: 12, heard: 0, refused: [], unmapped }, nameOf)
  expect(words(0)).not.toContain('mapped')
  expect(words(1)).toContain('1 key is not mapped: it has no pitch in this tuning.')
  expect(words(53)).toContain('53 keys are not mapped: they have no pitch')
  expect(tallyWords({ pitches: 0, heard: 0, refused: [], unmapped: 5 }, nameOf)).toBe(
    '5 keys are not mapped: they have no pitch in this tuning.',
  )
})

test('a tuning in a line', () => {
  const even = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 } as const
  expect(tuningWords(even)).toBe('12 equal steps of 1200 cents, 100 cents each; A4 (69) sounds 440 Hz')
  // Thirteen equal parts of 3/1 are 146.304231 cents each, computed from the formula.
  expect(tuningWords({ ...even, steps: 13, periodCents: 1901.955 })).toContain('146.304 cents each')
  const scale = {
    id: 'five',
    kind: 'scale',
    name: '',
    pitches: ['3/2', '2'],
    refNote: 60,
    refHz: 260,
  } as const
  expect(tuningWords(scale)).toBe('2 pitches; C4 (60) sounds 260 Hz')
  const map = { first: 0, last: 127, middle: 60, formalOctave: 2, degrees: [0, null] }
  expect(tuningWords({ ...scale, name: 'Open fifths', map })).toBe(
    'Open fifths; 2 pitches, with a key map; C4 (60) sounds 260 Hz',
  )
  const received = { id: 'sent', kind: 'received', player: 'keys', program: 3, base: 'even' } as const
  expect(tuningWords(received)).toBe('as keys sends it, tuning program 3; until then as even')
  expect(tuningWords({ ...received, bank: 2 })).toContain('program 3 of bank 2;')
})

test('the picture reaches to what is heard, farther where errors do, and close up only to them', () => {
  expect(centsScale(0.2, false)).toEqual({ limit: 8, lines: [-8, -6, -4, -2, 0, 2, 4, 6, 8] })
  expect(centsScale(31.5, false).limit).toBe(40)
  expect(centsScale(31.5, false).lines).toContain(-10)
  expect(centsScale(1199, false).limit).toBeGreaterThanOrEqual(1199)
  expect(centsScale(0.2, true)).toEqual({
    limit: 0.25,
    lines: [-0.25, -0.2, -0.15, -0.1, -0.05, 0, 0.05, 0.1, 0.15, 0.2, 0.25],
  })
  expect(centsScale(0, true).limit).toBeGreaterThan(0)
})
