import { LittleEndianWriter } from './little-endian.ts'
import { FRAME_TYPES, REPLY_STATUSES, type SerialFrame } from './serial-frame.ts'

/** Slot, rate and duty. */
const LAMP_BYTES = 7

/**
 * Type, sequence and body of a frame, integers little-endian; without CRC and stuffing. Throws RangeError where a number does
 * not fit its field.
 */
export function encodePayload(frame: SerialFrame): Uint8Array {
  const out = new LittleEndianWriter(2 + bodyLength(frame))
  out.write(1, FRAME_TYPES[frame.type])
  out.write(1, frame.sequence)
  writeBody(frame, out)
  return out.bytes
}

function bodyLength(frame: SerialFrame): number {
  switch (frame.type) {
    case 'hello':
      return 1
    case 'set':
      return 5 + LAMP_BYTES * frame.lamps.length
    case 'dark':
      return 0
    case 'beat':
      return 4
    case 'identity':
      return 8 + 2 * frame.prescalers.length
    case 'reply':
      return 6
  }
}

function writeBody(frame: SerialFrame, out: LittleEndianWriter): void {
  switch (frame.type) {
    case 'hello':
      return out.write(1, frame.version)
    case 'set':
      out.write(4, frame.at)
      out.write(1, frame.lamps.length)
      for (const { slot, rate, duty } of frame.lamps) {
        out.write(1, slot)
        out.write(4, rate)
        out.write(2, duty)
      }
      return
    case 'dark':
      return
    case 'beat':
      return out.write(4, frame.micros)
    case 'identity':
      out.write(1, frame.version)
      out.write(1, frame.lamps)
      out.write(4, frame.clockHz)
      out.write(1, frame.bits)
      out.write(1, frame.prescalers.length)
      for (const prescaler of frame.prescalers) out.write(2, prescaler)
      return
    case 'reply':
      out.write(1, frame.answers)
      out.write(1, REPLY_STATUSES.indexOf(frame.status))
      return out.write(4, frame.micros)
  }
}
