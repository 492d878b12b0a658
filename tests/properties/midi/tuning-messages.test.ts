import fc from 'fast-check'
import { expect, test } from 'vitest'
import { centsBetween, midiKeyToHz } from '../../../src/domain/pitch.ts'
import { decodeMts } from '../../../src/midi/mts-decode.ts'
import { encodeMts, splitKeys } from '../../../src/midi/mts-encode.ts'
import type { MtsBulk, MtsKeys, MtsMessage, MtsOctave } from '../../../src/midi/mts-message.ts'
import { bytesWord, hzToWord, NO_CHANGE, wordBytes, wordToHz } from '../../../src/midi/mts-word.ts'
import { checkProperty } from '../../support/property.ts'

const byte = fc.integer({ min: 0, max: 127 })
const word = fc.integer({ min: 0, max: NO_CHANGE })
const bank = fc.option(byte, { nil: undefined })

const keys: fc.Arbitrary<MtsKeys> = fc
  .record({
    kind: fc.constant('keys' as const),
    device: byte,
    realTime: fc.boolean(),
    bank,
    program: byte,
    changes: fc.array(fc.record({ key: byte, word }), { maxLength: 127 }),
  })
  .map((message) => (message.bank === undefined ? { ...message, realTime: true } : message))
const bulk: fc.Arbitrary<MtsBulk> = fc.record({
  kind: fc.constant('bulk' as const),
  device: byte,
  bank,
  program: byte,
  name: fc.array(byte, { minLength: 16, maxLength: 16 }).map((codes) => String.fromCharCode(...codes)),
  words: fc.array(word, { minLength: 128, maxLength: 128 }),
})
const octave: fc.Arbitrary<MtsOctave> = fc.boolean().chain((fine) =>
  fc.record({
    kind: fc.constant('octave' as const),
    device: byte,
    realTime: fc.boolean(),
    channels: fc.subarray(Array.from({ length: 16 }, (_, place) => place + 1)),
    fine: fc.constant(fine),
    cents: fc.array(
      fine
        ? fc.integer({ min: -8192, max: 8191 }).map((steps) => (steps * 100) / 8192)
        : fc.integer({ min: -64, max: 63 }),
      { minLength: 12, maxLength: 12 },
    ),
  }),
)
const message: fc.Arbitrary<MtsMessage> = fc.oneof(keys, bulk, octave)

test('a pitch comes back within half a step of 100/16384 cent, and a word as itself', () => {
  const pitch = fc.double({ min: 0, max: 127.9999, noNaN: true }).map(midiKeyToHz)
  checkProperty(
    'tuning word',
    fc.property(pitch, word, (hz, some) => {
      const back = wordToHz(hzToWord(hz) ?? -1)
      expect(Math.abs(centsBetween(back, hz))).toBeLessThanOrEqual(50 / 16384 + 1e-9)
      expect(bytesWord(...wordBytes(some))).toBe(some)
      expect(hzToWord(wordToHz(some))).toBe(some === NO_CHANGE ? undefined : some)
    }),
  )
})

test('every message comes back as it was, and all its bytes are data', () => {
  checkProperty(
    'tuning messages',
    fc.property(message, (one) => {
      const data = encodeMts(one)
      expect(data.every((part) => Number.isInteger(part) && part >= 0 && part <= 127)).toBe(true)
      const back = decodeMts(data)
      // JSON leaves out what is undefined.
      expect(JSON.parse(JSON.stringify(back))).toEqual(JSON.parse(JSON.stringify({ ...one })))
    }),
  )
})

test('a whole keyboard comes back from its pieces, however it is split', () => {
  const whole = fc.array(word, { minLength: 128, maxLength: 128 })
  checkProperty(
    'split keyboard',
    fc.property(whole, fc.integer({ min: 1, max: 127 }), (words, most) => {
      const changes = words.map((one, key) => ({ key, word: one }))
      const pieces = splitKeys({ kind: 'keys', device: 127, realTime: true, program: 0, changes }, most)
      const back = pieces.flatMap((piece) => {
        const one = decodeMts(encodeMts(piece))
        return one?.kind === 'keys' ? one.changes : []
      })
      expect(back).toEqual(changes)
    }),
    200,
  )
})

test('a message that is cut, longer, or has a byte changed is a fault as a whole, and nothing throws', () => {
  const more = fc.array(fc.integer({ min: 0, max: 300 }), { minLength: 1, maxLength: 9 })
  const no = fc.constantFrom(-1, 128, 300, 0.5, NaN)
  checkProperty(
    'damaged tuning messages',
    fc.property(message, fc.nat(), more, no, (one, place, rest, bad) => {
      const data = encodeMts(one)
      const isWhole = (bytes: readonly number[]) => (decodeMts(bytes)?.kind ?? 'fault') !== 'fault'
      expect(isWhole(data.slice(0, place % data.length))).toBe(false)
      expect(isWhole([...data, ...rest])).toBe(false)
      expect(isWhole(data.with(place % data.length, bad))).toBe(false)
    }),
  )
  checkProperty(
    'damaged dumps',
    fc.property(bulk, fc.nat(), fc.integer({ min: 1, max: 127 }), (one, place, by) => {
      const data = encodeMts(one)
      // What says that it is a dump stays.
      const at = 4 + (place % (data.length - 4))
      // A checksum finds any one byte that is changed.
      expect(decodeMts(data.with(at, (data[at] ?? 0) ^ by))).toMatchObject({ kind: 'fault' })
    }),
  )
})

test('any bytes at all: a message, a fault, or neither', () => {
  const head = fc.tuple(
    fc.constantFrom(0x7e, 0x7f),
    byte,
    fc.constant(8),
    fc.constantFrom(0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10),
  )
  checkProperty(
    'any tuning bytes',
    fc.property(head, fc.array(byte, { maxLength: 30 }), (first, rest) => {
      const one = decodeMts([...first, ...rest])
      if (!one) throw new Error('it is one of these messages, good or not')
      expect(one.kind === 'fault' ? one : decodeMts(encodeMts(one))).toEqual(one)
    }),
  )
})
