import { expect, test } from 'vitest'
import { centsToBend } from '../../../src/domain/bend.ts'
import { bendForHz } from '../../../src/domain/bent-key.ts'
import { midiKeyToHz, shiftByCents } from '../../../src/domain/pitch.ts'
import { bendFrom } from '../../../src/tuning/bend-quantise.ts'
import { bender } from '../../support/rig-outputs.ts'

// 14 bits, LSB first, centre 00 40: MIDI 1.0 Detailed Specification. Numbers computed from the formula.
const BENDS: readonly (readonly [number, number, string])[] = [
  [2, 50, '00 50'],
  [2, -50, '00 30'],
  [2, 1.955, '50 40'],
  [2, -13.686, '4F 3B'],
  [2, -200, '00 00'],
  [48, 50, '55 40'],
]

const bytes = (bend: number) =>
  [bend % 128, Math.floor(bend / 128)]
    .map((byte) => byte.toString(16).toUpperCase().padStart(2, '0'))
    .join(' ')

test.each(BENDS)('range %i: %f cents are %s', (range, cents, expected) => {
  expect(bytes(centsToBend(cents, range))).toBe(expected)
  expect(bytes(bendForHz(shiftByCents(midiKeyToHz(60), cents), 60, range) ?? -1)).toBe(expected)
})

test('a full bend up is one step out of reach: clamped as cents, refused as a pitch', () => {
  expect(bytes(centsToBend(200, 2))).toBe('7F 7F')
  expect(bendForHz(midiKeyToHz(62), 60, 2)).toBeUndefined()
})

// A receiver that goes by the upper 7 bits takes the second byte alone: its steps are range x 100 / 64 cents. Of the bends above, those that
// are no whole step of it go to the nearest: 1.955 cents and 13.686 of range 2 (steps of 3.125), 50 of range 48 (steps of 75).
test.each([
  [2, 50, '00 50'],
  [2, -50, '00 30'],
  [2, 1.955, '00 41'],
  [2, -13.686, '00 3C'],
  [2, -200, '00 00'],
  [12, 50, '00 43'],
  [12, -13.686, '00 3F'],
  [48, 50, '00 41'],
  [48, -37, '00 40'],
])('7 bits, range %i: %f cents are %s', (range, cents, expected) => {
  const hz = shiftByCents(midiKeyToHz(60), cents)
  expect(bytes(bendForHz(hz, 60, range, 7) ?? -1)).toBe(expected)
  expect(bytes(bendFrom(60, hz, bender(range, 7))?.drive.bend ?? -1)).toBe(expected)
})

test('7 bits: a full bend up is one of their steps out of reach', () => {
  expect(bytes(bendForHz(midiKeyToHz(60 + (2 * 63) / 64), 60, 2, 7) ?? -1)).toBe('00 7F')
  expect(bendForHz(midiKeyToHz(62), 60, 2, 7)).toBeUndefined()
})
