import { expect, test } from 'vitest'
import { crc16 } from '../../../src/outputs/crc16.ts'

// Check value and start value as catalogues of CRCs list them for CRC-16/CCITT-FALSE (CRC-16/IBM-3740).
test('"123456789" gives 29B1', () => {
  expect(crc16(Uint8Array.from('123456789', (digit) => digit.charCodeAt(0)))).toBe(0x29b1)
})

test('nothing gives FFFF', () => {
  expect(crc16(new Uint8Array())).toBe(0xffff)
})
