import { expect, test } from 'vitest'
import { encodePayload } from '../../../src/outputs/encode-payload.ts'

test('a number that does not fit its field is refused, not cut', () => {
  expect(() => encodePayload({ type: 'dark', sequence: 256 })).toThrow(/256 does not fit/)
  expect(() => encodePayload({ type: 'beat', sequence: 0, micros: 2 ** 32 })).toThrow(RangeError)
  expect(() => encodePayload({ type: 'beat', sequence: 0, micros: 1.5 })).toThrow(RangeError)
  expect(() =>
    encodePayload({ type: 'set', sequence: 0, at: 0, lamps: [{ slot: 0, rate: -1, duty: 0 }] }),
  ).toThrow(RangeError)
})
