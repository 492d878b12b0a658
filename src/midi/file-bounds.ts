import type { FileError } from './file.ts'
import type { WarningList } from './warning-list.ts'

/** Where in the bytes the Standard MIDI File is. */
export interface Bounds {
  readonly start: number
  readonly end: number
}

/** Bytes looked through for a header that does not stand first: old systems put 128 bytes of their own before it. */
const SEARCHED = 512

/** Four characters as they stand in the bytes; shorter at the end. */
export function fourCharacters(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4))
}

export function isAt(bytes: Uint8Array, at: number, id: string): boolean {
  for (let i = 0; i < id.length; i++) if (bytes[at + i] !== id.charCodeAt(i)) return false
  return true
}

/** Big-endian, as all numbers of the file standard are. */
export function word32(bytes: Uint8Array, at: number): number {
  return (word16(bytes, at) * 0x10000 + word16(bytes, at + 2)) >>> 0
}

export function word16(bytes: Uint8Array, at: number): number {
  return ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0)
}

/** Finds the file: plain, wrapped in RIFF (`RIFF....RMID`, MMA RP-029, from memory), or behind a little foreign matter. */
export function findFile(bytes: Uint8Array, warnings: WarningList): Bounds | FileError {
  if (bytes.length === 0) {
    return {
      what: 'the file is empty',
      where: 'it has 0 bytes',
      todo: 'Record or export the take again, then give the new file.',
    }
  }
  if (isAt(bytes, 0, 'MThd')) return { start: 0, end: bytes.length }
  if (isAt(bytes, 0, 'RIFF') && isAt(bytes, 8, 'RMID')) return findInRiff(bytes, warnings)
  for (let at = 1; at < Math.min(bytes.length, SEARCHED); at++) {
    if (!isAt(bytes, at, 'MThd')) continue
    warnings.add(0, 0, `${at} byte(s) before the header "MThd"`, 'they were skipped')
    return { start: at, end: bytes.length }
  }
  const found = [...bytes.subarray(0, 4)].map((byte) => byte.toString(16).toUpperCase().padStart(2, '0'))
  return {
    what: `this is not a MIDI file: it begins with ${found.join(' ')}, not with "MThd" (4D 54 68 64)`,
    where: 'byte 0',
    todo: 'Give a Standard MIDI File (.mid, .midi, .smf or .rmi).',
  }
}

function findInRiff(bytes: Uint8Array, warnings: WarningList): Bounds | FileError {
  for (let at = 12; at + 8 <= bytes.length;) {
    // RIFF sizes are little-endian, and chunks are padded to an even length.
    const size = littleEndian32(bytes, at + 4)
    if (isAt(bytes, at, 'data')) {
      const start = at + 8
      if (start + size > bytes.length) {
        const there = bytes.length - start
        warnings.add(
          0,
          at,
          `the RIFF data is ${there} bytes, not ${size} as it says`,
          'what is there was read',
        )
      }
      if (isAt(bytes, start, 'MThd')) return { start, end: Math.min(bytes.length, start + size) }
      return riffError('the RIFF data holds no MIDI file ("MThd" is missing)', start)
    }
    at += 8 + size + (size % 2)
  }
  return riffError('the RIFF file has no "data" chunk', 12)
}

function littleEndian32(bytes: Uint8Array, at: number): number {
  const byte = (i: number): number => bytes[at + i] ?? 0
  return (byte(0) | (byte(1) << 8) | (byte(2) << 16) | (byte(3) << 24)) >>> 0
}

function riffError(what: string, at: number): FileError {
  return { what, where: `byte ${at}`, todo: 'Export the take again as a plain Standard MIDI File (.mid).' }
}
