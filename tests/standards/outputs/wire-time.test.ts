import { expect, test } from 'vitest'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import type { LampSetting } from '../../../src/outputs/serial-frame.ts'
import { MAX_LAMPS_A_SET } from '../../../src/outputs/serial-frame.ts'

const BAUD = 500_000
const BITS_A_BYTE = 10 // 8N1: start, eight, stop
const set = (lamps: readonly LampSetting[]) => encodeFrame({ type: 'set', sequence: 1, at: 0, lamps })
// ATmega640/1280/2560 data sheet, USART: double speed, baud = clock / (8 x (1 + UBRR)).
const nearest = (baud: number) => 16e6 / (8 * Math.round(16e6 / (8 * baud)))
const LAMP: LampSetting = { slot: 1, rate: 0x0203_0405, duty: 0x0607 }

test('a change of one lamp is 18 bytes, 0.36 ms at 500,000 baud', () => {
  const typeAndSequence = 2
  const atAndCount = 4 + 1
  const lamp = 1 + 4 + 2
  const crc = 2
  const codeByte = 1
  const delimiter = 1
  const bytes = typeAndSequence + atAndCount + lamp + crc + codeByte + delimiter
  expect(bytes).toBe(18)
  expect(set([LAMP])).toHaveLength(bytes)
  expect((bytes * BITS_A_BYTE * 1000) / BAUD).toBeCloseTo(0.36, 12)
})

test('35 lamps are 256 bytes in one run, 5.12 ms; one more is over a run', () => {
  const lamps = Array.from({ length: MAX_LAMPS_A_SET }, () => LAMP)
  expect(2 + 5 + 7 * MAX_LAMPS_A_SET + 2).toBe(254)
  expect(set(lamps)).toHaveLength(256)
  expect((256 * BITS_A_BYTE * 1000) / BAUD).toBeCloseTo(5.12, 12)
  expect(2 + 5 + 7 * (MAX_LAMPS_A_SET + 1) + 2).toBeGreaterThan(254)
})

test('500,000 baud is exact on a 16 MHz part, 115,200 is 2 % off', () => {
  expect(nearest(BAUD)).toBe(BAUD)
  expect(nearest(115_200) / 115_200 - 1).toBeCloseTo(0.0212, 4)
})
