import { expect, test } from 'vitest'
import { decodeMts } from '../../../src/midi/mts-decode.ts'
import { encodeMts, splitKeys } from '../../../src/midi/mts-encode.ts'
import { fromHex } from '../../support/hex.ts'

const said = (hex: string) => decodeMts([...fromHex(hex)])
const dump = () =>
  encodeMts({ kind: 'bulk', device: 127, program: 0, name: 'even', words: Array(128).fill(0) })

test.each([
  ['7F 7F 08', 'it ends before it says what it is'],
  ['7F 7F 08 02', 'it ends before its count of changes'],
  ['7F 7F 08 02 00 01 45 45 05', '1 changes are 4 bytes, and 3 came'],
  ['7F 7F 08 02 00 02 45 45 05 04', '2 changes are 8 bytes, and 4 came'],
  ['7F 7F 08 07', 'it ends before its bank'],
  ['7E 7F 08 02 00 00', 'sub-ID 02 of 7E 08 is not one that is understood'],
  ['7F 7F 08 01 00', 'sub-ID 01 of 7F 08 is not one that is understood'],
  ['7E 7F 08 0A 00', 'sub-ID 0A of 7E 08 is not one that is understood'],
  ['7F 7F 08 08 03 7F 7F 40', 'an octave has 15 bytes from its channels on, and 4 came'],
  ['7E 7F 08 01 00', 'a dump has 402 bytes from its program on, and 1 came'],
  ['7F 7F 08 02 00 01 45 45 80 00', 'byte 9 is 128, and all must be 0 to 127'],
])('%s is passed over whole, and says why', (hex, why) => {
  expect(said(hex)).toEqual({ kind: 'fault', why })
})

test('a dump with another checksum is passed over whole', () => {
  const data = dump()
  const sum = data.at(-1) ?? 0
  expect(decodeMts([...data.slice(0, -1), sum ^ 1])).toMatchObject({
    kind: 'fault',
    why: expect.stringMatching(/its checksum is/),
  })
  expect(decodeMts(data.with(40, 1))).toMatchObject({ kind: 'fault' })
})

test.each(['7D 4C 61 00 00', '7E 7F 06 01', '', '7F 7F 04 01 00 7F'])(
  '%s is none of these messages',
  (hex) => {
    expect(said(hex)).toBeUndefined()
  },
)

test('what the bytes cannot hold is refused by name', () => {
  const keys = { kind: 'keys', device: 127, realTime: true, program: 0 } as const
  const changes = Array.from({ length: 128 }, (_, key) => ({ key, word: 0 }))
  expect(() => encodeMts({ ...keys, changes })).toThrow(/count of changes .* 0 to 127, but is 128/)
  expect(splitKeys({ ...keys, changes }).map((piece) => piece.changes.length)).toEqual([127, 1])
  expect(() => encodeMts({ ...keys, realTime: false, changes: [] })).toThrow(/always in real time/)
  expect(() => encodeMts({ ...keys, changes: [{ key: 60, word: -1 }] })).toThrow(/word/)
  const octave = { kind: 'octave', device: 1, realTime: true, channels: [1], fine: false } as const
  expect(() => encodeMts({ ...octave, cents: Array(12).fill(64) })).toThrow(/cents/)
  expect(() => encodeMts({ ...octave, cents: Array(11).fill(0) })).toThrow(/12 keys, but got 11/)
})
