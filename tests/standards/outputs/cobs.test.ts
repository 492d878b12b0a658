import { expect, test } from 'vitest'
import { cobsDecode, cobsEncode } from '../../../src/outputs/cobs.ts'
import { fromHex, toHex } from '../../support/hex.ts'

const run = (from: number, to: number) => toHex(Array.from({ length: to - from + 1 }, (_, at) => from + at))

// The examples usually given for Consistent Overhead Byte Stuffing (Cheshire and Baker 1999).
const VECTORS: readonly (readonly [string, string])[] = [
  ['', '01'],
  ['00', '0101'],
  ['11220033', '0311220233'],
  ['11000000', '0211010101'],
  [run(0x01, 0xfe), `ff${run(0x01, 0xfe)}`],
  [`00${run(0x01, 0xfe)}`, `01ff${run(0x01, 0xfe)}`],
  [run(0x01, 0xff), `ff${run(0x01, 0xfe)}02ff`],
  [`${run(0x02, 0xff)}00`, `ff${run(0x02, 0xff)}0101`],
]

test.each(VECTORS)('%s is stuffed as %s and back', (data, block) => {
  expect(toHex(cobsEncode(fromHex(data)))).toBe(block)
  expect(toHex(cobsDecode(fromHex(block)) ?? [])).toBe(data)
  expect(cobsDecode(fromHex(block))).toBeDefined()
})

test('the final 01 that some encoders write after a run of 254 is taken', () => {
  expect(toHex(cobsDecode(fromHex(`ff${run(0x01, 0xfe)}01`)) ?? [])).toBe(run(0x01, 0xfe))
})

test.each(['', '00', '0200', '03 11', 'ff 01 02', '01 00 01'])('"%s" is no block', (block) => {
  expect(cobsDecode(fromHex(block))).toBeUndefined()
})
