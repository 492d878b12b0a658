import { readLittleEndian } from './little-endian.ts'
import { FRAME_TYPES, type LampSetting, REPLY_STATUSES, type SerialFrame } from './serial-frame.ts'

/**
 * The frame in a payload, or undefined where the type is unknown, the length is not exactly what the body needs, or a reply
 * has an unknown status. Never throws.
 */
export function decodePayload(payload: Uint8Array): SerialFrame | undefined {
  if (payload.length < 2) return undefined
  const sequence = readLittleEndian(payload, 1, 1)
  const body = payload.subarray(2)
  switch (payload[0]) {
    case FRAME_TYPES.hello:
      return body.length === 1
        ? { type: 'hello', sequence, version: readLittleEndian(body, 0, 1) }
        : undefined
    case FRAME_TYPES.set:
      return decodeSet(sequence, body)
    case FRAME_TYPES.dark:
      return body.length === 0 ? { type: 'dark', sequence } : undefined
    case FRAME_TYPES.beat:
      return body.length === 4 ? { type: 'beat', sequence, micros: readLittleEndian(body, 0, 4) } : undefined
    case FRAME_TYPES.identity:
      return decodeIdentity(sequence, body)
    case FRAME_TYPES.reply:
      return decodeReply(sequence, body)
    default:
      return undefined
  }
}

function decodeSet(sequence: number, body: Uint8Array): SerialFrame | undefined {
  const count = body[4]
  if (count === undefined || body.length !== 5 + 7 * count) return undefined
  const lamps = Array.from({ length: count }, (_, place): LampSetting => {
    const at = 5 + 7 * place
    const slot = readLittleEndian(body, at, 1)
    return { slot, rate: readLittleEndian(body, at + 1, 4), duty: readLittleEndian(body, at + 5, 2) }
  })
  return { type: 'set', sequence, at: readLittleEndian(body, 0, 4), lamps }
}

function decodeIdentity(sequence: number, body: Uint8Array): SerialFrame | undefined {
  const count = body[7]
  if (count === undefined || body.length !== 8 + 2 * count) return undefined
  return {
    type: 'identity',
    sequence,
    version: readLittleEndian(body, 0, 1),
    lamps: readLittleEndian(body, 1, 1),
    clockHz: readLittleEndian(body, 2, 4),
    bits: readLittleEndian(body, 6, 1),
    prescalers: Array.from({ length: count }, (_, place) => readLittleEndian(body, 8 + 2 * place, 2)),
  }
}

function decodeReply(sequence: number, body: Uint8Array): SerialFrame | undefined {
  const status = REPLY_STATUSES[body[1] ?? -1]
  if (body.length !== 6 || status === undefined) return undefined
  const answers = readLittleEndian(body, 0, 1)
  return { type: 'reply', sequence, answers, status, micros: readLittleEndian(body, 2, 4) }
}
