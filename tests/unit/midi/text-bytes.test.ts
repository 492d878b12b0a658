import { expect, test } from 'vitest'
import { bytesOfText, textOfBytes } from '../../../src/midi/text-bytes.ts'

test.each(['fern', 'Färn', 'シダ', '🌿 moss', ''])('UTF-8 both ways: %s', (text) => {
  const bytes = bytesOfText(text)
  expect(bytes).toEqual([...new TextEncoder().encode(text)])
  expect(textOfBytes(Uint8Array.from(bytes))).toBe(text)
})

test.each([
  ['lone continuation', [0x80]],
  ['cut short', [0xe2, 0x99]],
  ['overlong', [0xc0, 0x80]],
  ['overlong, three bytes', [0xe0, 0x80, 0x80]],
  ['half a surrogate pair', [0xed, 0xa0, 0x80]],
  ['beyond Unicode', [0xf4, 0x90, 0x80, 0x80]],
])('not UTF-8, so Latin-1: %s', (_name, bytes) => {
  expect(textOfBytes(Uint8Array.from(bytes))).toBe(String.fromCharCode(...bytes))
})

test('half a surrogate pair is written as the replacement character', () => {
  expect(bytesOfText('a\ud800b')).toEqual([0x61, 0xef, 0xbf, 0xbd, 0x62])
})
