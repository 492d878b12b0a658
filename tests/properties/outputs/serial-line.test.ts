import fc from 'fast-check'
import { expect, test } from 'vitest'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import { type Decoded, SERIAL_DECODER_DEFAULTS, serialDecoder } from '../../../src/outputs/serial-decoder.ts'
import type { SerialFrame } from '../../../src/outputs/serial-frame.ts'
import { anyFrame } from '../../support/arbitrary-frame.ts'
import { checkProperty } from '../../support/property.ts'

/** Reads pieces one after another, the state through JSON between them. */
function read(...pieces: Uint8Array[]): Decoded[] {
  let state = serialDecoder.start(SERIAL_DECODER_DEFAULTS)
  return pieces.flatMap((bytes) => {
    const step = serialDecoder.step(state, { kind: 'bytes', bytes }, 0)
    state = JSON.parse(JSON.stringify(step.state))
    return step.out
  })
}

const flip = (bytes: Uint8Array, bit: number) =>
  bytes.map((byte, at) => (at === bit >> 3 ? byte ^ (1 << (bit & 7)) : byte))
const taken = (frame: SerialFrame): Decoded => ({ kind: 'frame', frame })
const framesOf = (out: readonly Decoded[]) => out.filter((one) => one.kind === 'frame')

test('a frame comes back as it was', () => {
  checkProperty(
    'frame round trip',
    fc.property(anyFrame, (frame) => {
      expect(read(encodeFrame(frame))).toEqual([taken(frame)])
    }),
  )
})

test('any split gives the same', () => {
  const line = fc.array(fc.oneof(anyFrame.map(encodeFrame), fc.uint8Array({ maxLength: 20 })), {
    maxLength: 5,
  })
  checkProperty(
    'split anywhere',
    fc.property(line, fc.array(fc.nat(1000), { maxLength: 12 }), (parts, cuts) => {
      const bytes = Uint8Array.from(parts.flatMap((part) => [...part]))
      const ends = [...cuts.map((cut) => cut % (bytes.length + 1)), bytes.length].sort((a, b) => a - b)
      const pieces = ends.map((end, at) => bytes.subarray(ends[at - 1] ?? 0, end))
      expect(read(...pieces)).toEqual(read(bytes))
    }),
  )
})

test('random bytes never throw, and two frames later the line is good again', () => {
  const next: SerialFrame = { type: 'dark', sequence: 9 }
  checkProperty(
    'noise',
    fc.property(fc.uint8Array({ maxLength: 3000 }), (noise) => {
      const out = read(noise, encodeFrame(next), encodeFrame(next))
      expect(out.at(-1)).toEqual(taken(next))
    }),
  )
})

// A CRC of 16 bits finds every single wrong bit of payload and CRC. A flip in a COBS code byte moves zeros about and can
// wrong many: of those that still make a block of the right form, one in 65,536 would pass. One flip a run keeps that
// far below one failure in the project's life.
test('a flipped bit costs its frame, and the next good one is taken', () => {
  const next: SerialFrame = { type: 'beat', sequence: 77, micros: 5 }
  checkProperty(
    'bit flip',
    fc.property(anyFrame, fc.nat(100_000), (frame, bit) => {
      const wire = encodeFrame(frame)
      const bits = (wire.length - 1) * 8
      const out = read(flip(wire, bit % bits), encodeFrame(next))
      expect(framesOf(out)).toEqual([taken(next)])
      expect(out.length).toBeGreaterThan(1)
    }),
    5000,
  )
})

test('every single bit of one frame of each kind', () => {
  const frames: SerialFrame[] = [
    { type: 'hello', sequence: 0, version: 1 },
    { type: 'set', sequence: 3, at: 0, lamps: [{ slot: 0, rate: 440 * 65536, duty: 32768 }] },
    { type: 'dark', sequence: 255 },
    { type: 'beat', sequence: 4, micros: 123_456_789 },
    { type: 'reply', sequence: 5, answers: 6, status: 'late', micros: 987_654_321 },
  ]
  for (const frame of frames) {
    const wire = encodeFrame(frame)
    for (let bit = 0; bit < (wire.length - 1) * 8; bit++) {
      expect(framesOf(read(flip(wire, bit), wire))).toEqual([taken(frame)])
    }
  }
})

test('a flip in the 00 between two frames costs both, and the third is taken', () => {
  const next: SerialFrame = { type: 'beat', sequence: 77, micros: 5 }
  checkProperty(
    'delimiter flip',
    fc.property(anyFrame, fc.nat(7), (frame, bit) => {
      const wire = encodeFrame(frame)
      const out = read(flip(wire, (wire.length - 1) * 8 + bit), encodeFrame(frame), encodeFrame(next))
      expect(out).toEqual([expect.objectContaining({ kind: 'damaged' }), taken(next)])
    }),
  )
})
