import { type Field, packLittleEndian } from './little-endian.ts'
import { FRAME_TYPES, REPLY_STATUSES, type SerialFrame } from './serial-frame.ts'

/**
 * Type, sequence and body of a frame, integers little-endian; without CRC and stuffing. Throws RangeError where a number does
 * not fit its field.
 */
export function encodePayload(frame: SerialFrame): Uint8Array {
  return packLittleEndian([[1, FRAME_TYPES[frame.type]], [1, frame.sequence], ...body(frame)])
}

function body(frame: SerialFrame): readonly Field[] {
  switch (frame.type) {
    case 'hello':
      return [[1, frame.version]]
    case 'set':
      return [
        [4, frame.at],
        [1, frame.lamps.length],
        ...frame.lamps.flatMap(({ slot, rate, duty }): Field[] => [
          [1, slot],
          [4, rate],
          [2, duty],
        ]),
      ]
    case 'dark':
      return []
    case 'beat':
      return [[4, frame.micros]]
    case 'identity':
      return [
        [1, frame.version],
        [1, frame.lamps],
        [4, frame.clockHz],
        [1, frame.bits],
        [1, frame.prescalers.length],
        ...frame.prescalers.map((prescaler): Field => [2, prescaler]),
      ]
    case 'reply':
      return [
        [1, frame.answers],
        [1, REPLY_STATUSES.indexOf(frame.status)],
        [4, frame.micros],
      ]
  }
}
