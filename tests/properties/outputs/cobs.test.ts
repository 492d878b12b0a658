import fc from 'fast-check'
import { expect, test } from 'vitest'
import { cobsDecode, cobsEncode } from '../../../src/outputs/cobs.ts'
import { checkProperty } from '../../support/property.ts'
import { toHex } from '../../support/hex.ts'

// Few different bytes, so that zeros and runs over 254 both are common.
const data = fc.oneof(
  fc.uint8Array({ maxLength: 600 }),
  fc.array(fc.constantFrom(0, 1, 255), { maxLength: 80 }).map((bytes) => Uint8Array.from(bytes)),
  fc.integer({ min: 250, max: 520 }).map((length) => new Uint8Array(length).fill(7)),
)

test('stuffed bytes hold no zero, are one longer for every 254 begun at most, and come back', () => {
  checkProperty(
    'cobs round trip',
    fc.property(data, (bytes) => {
      const block = cobsEncode(bytes)
      const most = bytes.length + Math.max(1, Math.ceil(bytes.length / 254))
      expect(block).not.toContain(0)
      expect(block.length).toBeLessThanOrEqual(most)
      expect(toHex(cobsDecode(block) ?? [0])).toBe(toHex(bytes))
    }),
  )
})
