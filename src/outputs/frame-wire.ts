import { cobsDecode, cobsEncode } from './cobs.ts'
import { crc16 } from './crc16.ts'
import { decodePayload } from './decode-payload.ts'
import { encodePayload } from './encode-payload.ts'
import { readLittleEndian } from './little-endian.ts'
import type { SerialFrame } from './serial-frame.ts'

/** What is wrong with a damaged frame: its stuffing, its checksum, its content, or its length. */
export type Damage = 'cobs' | 'crc' | 'payload' | 'too-long'

/** The bytes of a frame on the wire: COBS(payload, CRC low byte first), then 00. */
export function encodeFrame(frame: SerialFrame): Uint8Array {
  const payload = encodePayload(frame)
  const crc = crc16(payload)
  const checked = new Uint8Array(payload.length + 2)
  checked.set(payload)
  checked[payload.length] = crc & 0xff
  checked[payload.length + 1] = crc >> 8
  const block = cobsEncode(checked)
  const wire = new Uint8Array(block.length + 1)
  wire.set(block)
  return wire
}

/** The frame in what stands between two 00, or what is wrong with it. Never throws. */
export function decodeFrame(block: Uint8Array): SerialFrame | Damage {
  const data = cobsDecode(block)
  if (data === undefined) return 'cobs'
  const payload = data.subarray(0, Math.max(0, data.length - 2))
  if (data.length < 2 || crc16(payload) !== readLittleEndian(data, payload.length, 2)) return 'crc'
  return decodePayload(payload) ?? 'payload'
}
