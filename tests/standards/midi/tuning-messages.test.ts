import { expect, test } from 'vitest'
import { decodeMts } from '../../../src/midi/mts-decode.ts'
import { encodeMts } from '../../../src/midi/mts-encode.ts'
import type { MtsMessage } from '../../../src/midi/mts-message.ts'
import { bytesWord, hzToWord, wordBytes, wordToHz } from '../../../src/midi/mts-word.ts'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import { hexByte } from '../../../src/midi/malformed.ts'
import { fromHex } from '../../support/hex.ts'

const hexOf = (bytes: readonly number[]) => bytes.map(hexByte).join(' ')
const bytesOfHex = (hex: string) => [...fromHex(hex)]

// MIDI Tuning Standard, frequency data format: key, and 14 bits of 100/16384 cent above it, at 440 Hz. Its printed table has misprints, so these are from the formula.
const WORDS: readonly (readonly [string, number])[] = [
  ['00 00 00', 8.175799],
  ['00 00 01', 8.175828],
  ['3C 00 00', 261.625565],
  ['3D 00 00', 277.182631],
  ['44 7F 7F', 439.998449],
  ['45 00 00', 440],
  ['45 00 01', 440.001551],
  ['78 00 01', 8372.047605],
  ['7F 00 00', 12543.853951],
  ['7F 7F 7E', 13289.656616],
]

const word = (hex: string) => {
  const [xx = 0, yy = 0, zz = 0] = bytesOfHex(hex)
  return bytesWord(xx, yy, zz)
}

test.each(WORDS)('%s is %f Hz', (hex, hz) => {
  expect(wordToHz(word(hex))).toBeCloseTo(hz, 6)
  expect(hexOf(wordBytes(hzToWord(hz) ?? 0))).toBe(hex)
})

test.each([
  [441, '45 05 04'],
  [442, '45 0A 06'],
  [432, '44 57 2B'],
])('%i Hz is %s', (hz, hex) => {
  expect(hexOf(wordBytes(hzToWord(hz) ?? 0))).toBe(hex)
})

test('7F 7F 7F is no pitch: what would round to it, or lies below key 0, has no word', () => {
  expect(hzToWord(midiKeyToHz(128))).toBeUndefined()
  expect(hzToWord(midiKeyToHz(127.99999))).toBeUndefined()
  expect(hzToWord(midiKeyToHz(-0.0001))).toBeUndefined()
  expect(hzToWord(midiKeyToHz(-0.00001))).toBe(0)
})

// The layouts: MIDI 1.0 Detailed Specification, MIDI Tuning Standard; updates CA-020 and CA-021, from memory.
const name = 'equal'
const dumped = Array.from({ length: 128 }, (_, key) => key << 14)
const MESSAGES: readonly (readonly [string, MtsMessage, string])[] = [
  [
    'a single-note change',
    {
      kind: 'keys',
      device: 0x7f,
      realTime: true,
      program: 3,
      changes: [{ key: 69, word: word('45 05 04') }],
    },
    '7F 7F 08 02 03 01 45 45 05 04',
  ],
  [
    'one with a bank, not in real time, of two keys',
    {
      kind: 'keys',
      device: 1,
      realTime: false,
      bank: 5,
      program: 3,
      changes: [
        { key: 60, word: word('3C 00 01') },
        { key: 61, word: word('7F 7F 7F') },
      ],
    },
    '7E 01 08 07 05 03 02 3C 3C 00 01 3D 7F 7F 7F',
  ],
  [
    'an octave of one byte a class, channels 1, 8 and 16',
    {
      kind: 'octave',
      device: 0x10,
      realTime: false,
      channels: [1, 8, 16],
      fine: false,
      cents: [0, -64, 63, 1, -1, 0, 0, 0, 0, 0, 0, 14],
    },
    '7E 10 08 08 02 01 01 40 00 7F 41 3F 40 40 40 40 40 40 4E',
  ],
  [
    'an octave of two bytes a class, all channels',
    {
      kind: 'octave',
      device: 0x7f,
      realTime: true,
      channels: Array.from({ length: 16 }, (_, place) => place + 1),
      fine: true,
      cents: [0, -100, (100 * 8191) / 8192, 50, -50, 0, 0, 0, 0, 0, 0, 100 / 8192],
    },
    '7F 7F 08 09 03 7F 7F 40 00 00 00 7F 7F 60 00 20 00 40 00 40 00 40 00 40 00 40 00 40 00 40 01',
  ],
]

test.each(MESSAGES)('%s: its bytes, there and back', (_, message, hex) => {
  expect(hexOf(encodeMts(message))).toBe(hex)
  expect(decodeMts(bytesOfHex(hex))).toEqual(message)
})

test('a bulk dump is 408 bytes with F0 and F7, its checksum the XOR of all between F0 and it', () => {
  const data = encodeMts({ kind: 'bulk', device: 0x7f, program: 9, name, words: dumped })
  expect(data).toHaveLength(408 - 2)
  const letters = [...name.padEnd(16)].map((letter) => letter.charCodeAt(0))
  expect(data.slice(0, 5 + 16)).toEqual([0x7e, 0x7f, 0x08, 0x01, 9, ...letters])
  expect(data.slice(21, 27)).toEqual([0, 0, 0, 1, 0, 0])
  let sum = 0
  for (const byte of data.slice(0, -1)) sum ^= byte
  expect(data.at(-1)).toBe(sum & 0x7f)
  expect(decodeMts(data)).toMatchObject({ kind: 'bulk', program: 9, name: name.padEnd(16), words: dumped })
})
