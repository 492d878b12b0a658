import type { Stage } from '../domain/stage.ts'
import { type Damage, decodeFrame } from './frame-wire.ts'
import type { SerialFrame } from './serial-frame.ts'

export interface SerialDecoderConfig {
  /** A block of more bytes than this before its 00 is dropped, so that a line without any cannot fill the memory. */
  readonly maxBlock: number
}

export const SERIAL_DECODER_DEFAULTS: SerialDecoderConfig = { maxBlock: 2048 }

export interface SerialDecoderState {
  readonly maxBlock: number
  /** The block so far, its first `maxBlock` bytes. */
  readonly block: readonly number[]
  /** Bytes of the block so far, kept or not. */
  readonly length: number
}

export interface BytesIn {
  readonly kind: 'bytes'
  readonly bytes: Uint8Array
}

export type Decoded =
  | { readonly kind: 'frame'; readonly frame: SerialFrame }
  /** A frame dropped whole: why, and how long it was without its 00. */
  | { readonly kind: 'damaged'; readonly damage: Damage; readonly bytes: number }

/**
 * Bytes in pieces of any size -> frames. A damaged frame is dropped whole and told of; the next good one is taken. Where
 * the 00 itself is damaged two frames are one to the reader, and both are lost. Nothing between two 00 is no frame.
 */
export const serialDecoder: Stage<SerialDecoderConfig, SerialDecoderState, BytesIn, Decoded> = {
  name: 'serial-decoder',

  start({ maxBlock }) {
    return { maxBlock, block: [], length: 0 }
  },

  step(state, { bytes }) {
    const out: Decoded[] = []
    let { block, length } = state
    let from = 0
    for (let end = bytes.indexOf(0); end !== -1; end = bytes.indexOf(0, from)) {
      ;({ block, length } = append(state.maxBlock, block, length, bytes.subarray(from, end)))
      if (length > 0) out.push(decodeBlock(block, length))
      block = []
      length = 0
      from = end + 1
    }
    return { state: { ...state, ...append(state.maxBlock, block, length, bytes.subarray(from)) }, out }
  },
}

function append(maxBlock: number, block: readonly number[], length: number, more: Uint8Array) {
  const kept = more.subarray(0, Math.max(0, maxBlock - block.length))
  return { block: [...block, ...kept], length: length + more.length }
}

function decodeBlock(block: readonly number[], length: number): Decoded {
  if (length > block.length) return { kind: 'damaged', damage: 'too-long', bytes: length }
  const decoded = decodeFrame(Uint8Array.from(block))
  return typeof decoded === 'string'
    ? { kind: 'damaged', damage: decoded, bytes: length }
    : { kind: 'frame', frame: decoded }
}
