import fc from 'fast-check'
import { expect, test } from 'vitest'
import { encode } from '../../../src/midi/encode.ts'
import { decodePieces } from '../../support/decoding.ts'
import { anyMessage } from '../../support/message-arbitrary.ts'
import { checkProperty } from '../../support/property.ts'

/** Bytes much like a cable's: whole messages, noise, statuses without their data, system exclusive broken off. */
const stream = fc
  .array(
    fc.oneof(
      { weight: 3, arbitrary: anyMessage.map(encode) },
      { weight: 1, arbitrary: fc.array(fc.integer({ min: 0, max: 255 }), { maxLength: 8 }) },
      {
        weight: 1,
        arbitrary: fc.constantFrom([0xf0, 1], [0x90, 60], [0xf7], [0xf8], [62, 100], [0xf9], [0xf4]),
      },
    ),
    { maxLength: 30 },
  )
  .map((pieces) => pieces.flat())

function cut(bytes: readonly number[], at: readonly number[]): number[][] {
  const places = at.map((place) => place % (bytes.length + 1)).toSorted((a, b) => a - b)
  return [...places, bytes.length].map((place, i) => bytes.slice(i === 0 ? 0 : places[i - 1], place))
}

test('any cut of the bytes, with the state saved and restored at each, gives the same messages', () => {
  checkProperty(
    'decode: cuts',
    fc.property(stream, fc.array(fc.nat(), { maxLength: 12 }), (bytes, at) => {
      const whole = decodePieces([bytes])
      expect(decodePieces(cut(bytes, at), (state) => JSON.parse(JSON.stringify(state)))).toEqual(whole)
      expect(decodePieces(bytes.map((byte) => [byte]))).toEqual(whole)
    }),
  )
})

test('what is put out stays in proportion to what comes in', () => {
  checkProperty(
    'decode: output is bounded',
    fc.property(stream, (bytes) => {
      const messages = decodePieces([bytes])
      const good = messages.filter(({ type }) => type !== 'malformed').length
      // Seven kinds of fault, each told at most twice between two good messages.
      expect(messages.length - good).toBeLessThanOrEqual(14 * (good + 1))
    }),
  )
})
