import { cobsDecode } from '../../../src/outputs/cobs.ts'
import { crc16 } from '../../../src/outputs/crc16.ts'
import { decodePayload } from '../../../src/outputs/decode-payload.ts'
import type { HostFrame } from '../../../src/outputs/serial-frame.ts'

/** The longest frame a host may send, a set of 255 lamps, in COBS. */
const MAX_BLOCK = 1810
/** Frames from a box have the top bit of their type set; one that comes back over a looped line is not for us. */
const FROM_BOX = 0x80

export type BoxHeard =
  | { readonly kind: 'frame'; readonly frame: HostFrame }
  /** The CRC is right, but it is no frame that this version knows. */
  | { readonly kind: 'strange'; readonly sequence: number }
  | { readonly kind: 'damaged' }

/** Bytes in pieces of any size, as a box reads them. */
export class BoxReader {
  #block: number[] = []

  read(bytes: Uint8Array): BoxHeard[] {
    const heard: BoxHeard[] = []
    for (const byte of bytes) {
      if (byte !== 0) {
        // One byte more than there may be is enough to know that it is too long.
        if (this.#block.length <= MAX_BLOCK) this.#block.push(byte)
        continue
      }
      if (this.#block.length > 0) heard.push(readBlock(Uint8Array.from(this.#block)))
      this.#block = []
    }
    return heard
  }
}

function readBlock(block: Uint8Array): BoxHeard {
  const data = block.length > MAX_BLOCK ? undefined : cobsDecode(block)
  const [low, high] = data?.subarray(-2) ?? []
  const payload = data?.subarray(0, -2) ?? new Uint8Array()
  const [type, sequence] = payload
  if (low === undefined || high === undefined || crc16(payload) !== low + 256 * high)
    return { kind: 'damaged' }
  if (type === undefined || sequence === undefined || type >= FROM_BOX) return { kind: 'damaged' }
  const frame = decodePayload(payload)
  if (!frame || frame.type === 'identity' || frame.type === 'reply') return { kind: 'strange', sequence }
  return { kind: 'frame', frame }
}
