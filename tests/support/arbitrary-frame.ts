import fc from 'fast-check'
import { REPLY_STATUSES, type SerialFrame } from '../../src/outputs/serial-frame.ts'

const u8 = fc.integer({ min: 0, max: 0xff })
const u16 = fc.integer({ min: 0, max: 0xffff })
const u32 = fc.integer({ min: 0, max: 0xffff_ffff })

/** Any frame, either way. */
export const anyFrame: fc.Arbitrary<SerialFrame> = fc.oneof(
  fc.record({ type: fc.constant('hello' as const), sequence: u8, version: u8 }),
  fc.record({
    type: fc.constant('set' as const),
    sequence: u8,
    at: u32,
    lamps: fc.array(fc.record({ slot: u8, rate: u32, duty: u16 }), { maxLength: 60 }),
  }),
  fc.record({ type: fc.constant('dark' as const), sequence: u8 }),
  fc.record({ type: fc.constant('beat' as const), sequence: u8, micros: u32 }),
  fc.record({
    type: fc.constant('identity' as const),
    sequence: u8,
    version: u8,
    lamps: u8,
    clockHz: u32,
    bits: u8,
    prescalers: fc.array(u16, { maxLength: 20 }),
  }),
  fc.record({
    type: fc.constant('reply' as const),
    sequence: u8,
    answers: u8,
    status: fc.constantFrom(...REPLY_STATUSES),
    micros: u32,
  }),
)
