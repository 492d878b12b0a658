import { expect, test } from 'vitest'
import { encode } from '../../../src/midi/encode.ts'

// MIDI 1.0 Detailed Specification: registered parameter 0 is the bend range, semitones then cents; 7F 7F is null.
test('a bend range of 12 semitones on channel 3: parameter 0, value, then null', () => {
  const message = { type: 'parameter', registered: true, channel: 3, parameter: 0, value: 12 << 7 } as const
  const pairs = ['65 00', '64 00', '06 0C', '26 00', '65 7F', '64 7F']
  expect(encode(message)).toEqual(
    pairs.flatMap((pair) => [0xb2, ...pair.split(' ').map((byte) => Number.parseInt(byte, 16))]),
  )
})
