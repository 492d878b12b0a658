import { expect, test } from 'vitest'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import type { SerialFrame } from '../../../src/outputs/serial-frame.ts'
import { toHex } from '../../support/hex.ts'

// Stuffed by hand; the CRCs are those of an independent implementation, Python's binascii.crc_hqx(payload, 0xFFFF).
const FRAMES: readonly (readonly [string, SerialFrame, string])[] = [
  // 01 00 01, CRC EB8D
  ['hello', { type: 'hello', sequence: 0, version: 1 }, '02 01 04 01 8d eb 00'],
  // 03 01, CRC 587D
  ['dark', { type: 'dark', sequence: 1 }, '05 03 01 7d 58 00'],
  // 04 02 40 42 0F 00, CRC 415D
  ['beat', { type: 'beat', sequence: 2, micros: 1_000_000 }, '06 04 02 40 42 0f 03 5d 41 00'],
  // 02 03, 00 00 00 00, 01, 00, 00 00 B8 01, 00 80, CRC 0574
  [
    'set',
    { type: 'set', sequence: 3, at: 0, lamps: [{ slot: 0, rate: 440 * 65536, duty: 32768 }] },
    '03 02 03 01 01 01 02 01 01 01 03 b8 01 04 80 74 05 00',
  ],
  // 82 01, 03, 00, 78 56 34 12, CRC E562
  [
    'reply',
    { type: 'reply', sequence: 1, answers: 3, status: 'done', micros: 0x1234_5678 },
    '04 82 01 03 07 78 56 34 12 62 e5 00',
  ],
]

test.each(FRAMES)('%s', (_name, frame, wire) => {
  expect(toHex(encodeFrame(frame))).toBe(wire.replaceAll(' ', ''))
})
