import { expect, it } from 'vitest'
import { toPcm16 } from '../../../src/offline/wav.ts'

it('rounds halves away from 0, clips alike on both sides, low byte first', () => {
  const given = [0, 1, -1, 2, -2, 0.5, -0.5, 258 / 32767, 0.4 / 32767, -0.4 / 32767]
  const bytes = toPcm16(Float32Array.from(given))
  const view = new DataView(bytes.buffer)
  const read = given.map((_, i) => view.getInt16(2 * i, true))
  expect(read).toEqual([0, 32767, -32767, 32767, -32767, 16384, -16384, 258, 0, 0])
  expect([bytes[14], bytes[15]]).toEqual([0x02, 0x01])
})

it('does not write what is not a number', () => {
  expect(() => toPcm16(Float32Array.of(0, NaN))).toThrow('sample 1 of the block is not a number')
})
