import { expect, test } from 'vitest'
import { centsToBend } from '../../../src/domain/bend.ts'
import { bendForHz } from '../../../src/domain/bent-key.ts'
import { midiKeyToHz, shiftByCents } from '../../../src/domain/pitch.ts'

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
