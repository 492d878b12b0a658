import { expect, test } from 'vitest'
import { bendToCents, centsToBend } from '../../../src/domain/bend.ts'
import { encode } from '../../../src/midi/encode.ts'

// Bend layout: MIDI 1.0 Detailed Specification (14 bits, lower half first, centre 2000h). Values computed from the
// formula 8192 + cents / (100 * range) * 8192.
test.each([
  [2, 50, [0x00, 0x50]],
  [2, -50, [0x00, 0x30]],
  [2, 1.955, [0x50, 0x40]],
  [2, -13.686, [0x4f, 0x3b]],
  [2, -200, [0x00, 0x00]],
  [2, 200, [0x7f, 0x7f]],
  [48, 50, [0x55, 0x40]],
])('range %i semitones, %f cents', (range, cents, bytes) => {
  const value = centsToBend(cents, range)
  expect(encode({ type: 'bend', channel: 1, value })).toEqual([0xe0, ...bytes])
  // One step of the bend is range * 100 / 8192 cents; the clamped end is a whole step away.
  const step = (range * 100) / 8192
  expect(Math.abs(bendToCents(value, range) - cents)).toBeLessThanOrEqual(cents === 200 ? step : step / 2)
})
