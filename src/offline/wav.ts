import type { Hz } from '../domain/units.ts'

const HEADER_BYTES = 44
const BYTES_PER_FRAME = 2
const LARGEST = 0xffff_ffff

/**
 * Header of a RIFF/WAVE file of `frames` samples, 16-bit PCM, mono (Multimedia Programming Interface and Data
 * Specifications 1.0, 1991; from memory). RangeError for sizes that its 32-bit fields cannot hold.
 */
export function wavHeader(frames: number, sampleRate: Hz): Uint8Array {
  if (!Number.isInteger(frames) || frames < 0) {
    throw new RangeError(`a WAV file has a whole number of samples, got ${frames}`)
  }
  if (!Number.isInteger(sampleRate) || sampleRate < 1 || sampleRate * BYTES_PER_FRAME > LARGEST) {
    throw new RangeError(
      `the sample rate must be a whole number of Hz that fits a WAV header, got ${sampleRate}`,
    )
  }
  const data = frames * BYTES_PER_FRAME
  if (data + HEADER_BYTES - 8 > LARGEST) {
    const hours = frames / sampleRate / 3600
    throw new RangeError(
      `a WAV file holds 4 GiB at most; ${frames} samples (${hours.toFixed(1)} h) are more: render the take in pieces`,
    )
  }
  const bytes = new Uint8Array(HEADER_BYTES)
  const view = new DataView(bytes.buffer)
  word(bytes, 0, 'RIFF')
  view.setUint32(4, HEADER_BYTES - 8 + data, true)
  word(bytes, 8, 'WAVE')
  word(bytes, 12, 'fmt ')
  view.setUint32(16, 16, true)
  view.setUint16(20, 1, true) // PCM
  view.setUint16(22, 1, true) // mono
  view.setUint32(24, sampleRate, true)
  view.setUint32(28, sampleRate * BYTES_PER_FRAME, true)
  view.setUint16(32, BYTES_PER_FRAME, true)
  view.setUint16(34, 16, true)
  word(bytes, 36, 'data')
  view.setUint32(40, data, true)
  return bytes
}

/**
 * Samples -1..1 as 16-bit little-endian PCM, newly allocated. 1 is 32767 and -1 is -32767, what is beyond is clipped
 * there; halves round away from 0; no dither, so that the same take gives the same bytes. RangeError for NaN.
 */
export function toPcm16(block: Float32Array): Uint8Array {
  const view = new DataView(new ArrayBuffer(block.length * BYTES_PER_FRAME))
  for (let i = 0; i < block.length; i++) {
    const sample = block[i]!
    const size = Math.min(32767, Math.floor(Math.abs(sample) * 32767 + 0.5))
    if (!(size >= 0)) throw new RangeError(`sample ${i} of the block is not a number`)
    view.setInt16(i * BYTES_PER_FRAME, sample < 0 ? -size : size, true)
  }
  return new Uint8Array(view.buffer)
}

function word(bytes: Uint8Array, at: number, letters: string): void {
  for (let i = 0; i < letters.length; i++) bytes[at + i] = letters.charCodeAt(i)
}
