import { expect, test } from 'vitest'
import { quantityBytes, readQuantity } from '../../../src/midi/variable-length.ts'

// Standard MIDI Files 1.0, table of variable-length quantities; from memory.
test.each([
  [0x00000000, '00'],
  [0x00000040, '40'],
  [0x0000007f, '7F'],
  [0x00000080, '81 00'],
  [0x00002000, 'C0 00'],
  [0x00003fff, 'FF 7F'],
  [0x00004000, '81 80 00'],
  [0x00100000, 'C0 80 00'],
  [0x001fffff, 'FF FF 7F'],
  [0x00200000, '81 80 80 00'],
  [0x08000000, 'C0 80 80 00'],
  [0x0fffffff, 'FF FF FF 7F'],
])('%i is %s', (value, hex) => {
  const bytes = hex.split(' ').map((byte) => Number.parseInt(byte, 16))
  expect(quantityBytes(value)).toEqual(bytes)
  const read = readQuantity(Uint8Array.from(bytes), 0, bytes.length)
  expect(read).toEqual({ value, next: bytes.length, cut: false })
})

test('the largest is 0FFFFFFF', () => {
  expect(() => quantityBytes(0x10000000)).toThrow(RangeError)
  expect(readQuantity(Uint8Array.of(0x81, 0x80, 0x80, 0x80, 0x00), 0, 5)).toMatchObject({
    value: -1,
    next: 5,
  })
})
