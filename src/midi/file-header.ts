import { fourCharacters, isAt, word16, word32, type Bounds } from './file-bounds.ts'
import type { Division, FileError } from './file.ts'
import type { WarningList } from './warning-list.ts'

export interface FileHeader {
  readonly format: 0 | 1 | 2
  readonly division: Division
  readonly trackCount: number
  /** Where the chunk after the header begins. */
  readonly next: number
}

const FRAME_RATES = new Set([24, 25, 29, 30])

/** Reads the header chunk, Standard MIDI Files 1.0, "Header Chunks". `bounds.start` is where "MThd" stands. */
export function readHeader(bytes: Uint8Array, bounds: Bounds, warnings: WarningList): FileHeader | FileError {
  const { start, end } = bounds
  if (end - start < 14) {
    return {
      what: `the file ends inside its header, after ${end - start} of 14 bytes`,
      where: `byte ${end}`,
      todo: 'The copy is cut short: copy or export the take again.',
    }
  }
  const length = word32(bytes, start + 4)
  if (length < 6) {
    return {
      what: `the header says it is ${length} bytes long, but takes at least 6`,
      where: `byte ${start + 4}`,
      todo: 'The file is damaged: export the take again.',
    }
  }
  const division = readDivision(bytes, start + 12, warnings)
  if ('what' in division) return division
  return {
    format: readFormat(word16(bytes, start + 8), start + 8, warnings),
    division,
    trackCount: word16(bytes, start + 10),
    next: afterHeader(bytes, bounds, length, warnings),
  }
}

function readFormat(format: number, at: number, warnings: WarningList): 0 | 1 | 2 {
  if (format === 0 || format === 1 || format === 2) return format
  warnings.add(
    0,
    at,
    `format ${format} is unknown (0, 1 and 2 are)`,
    'read as format 1: tracks at the same time',
  )
  return 1
}

function readDivision(bytes: Uint8Array, at: number, warnings: WarningList): Division | FileError {
  const word = word16(bytes, at)
  const faulty = (what: string): FileError => ({
    what,
    where: `byte ${at}`,
    todo: 'Without it no event has a time: export the take again with, say, 480 ticks a beat.',
  })
  if (word < 0x8000) {
    if (word === 0) return faulty('the header says 0 ticks a beat')
    return { kind: 'beats', ticksPerBeat: word }
  }
  // The upper byte is the frame rate as a negative number in two's complement.
  const framesPerSecond = 256 - (word >> 8)
  const ticksPerFrame = word & 0xff
  if (ticksPerFrame === 0) return faulty('the header says 0 ticks a frame')
  if (!FRAME_RATES.has(framesPerSecond)) {
    const what = `${framesPerSecond} frames a second is not a SMPTE rate (24, 25, 29 or 30)`
    warnings.add(0, at, what, 'the rate was used as it stands')
  }
  return { kind: 'frames', framesPerSecond, ticksPerFrame }
}

/** A longer header is allowed (later versions of the standard may add to it); one longer than the file is a lie. */
function afterHeader(bytes: Uint8Array, bounds: Bounds, length: number, warnings: WarningList): number {
  const plain = bounds.start + 14
  const claimed = bounds.start + 8 + length
  if (length === 6 || (claimed < bounds.end && !isAt(bytes, plain, 'MTrk'))) return claimed
  const found = isAt(bytes, plain, 'MTrk') ? 'a track follows after 6' : 'the file is shorter'
  warnings.add(
    0,
    bounds.start + 4,
    `the header says it is ${length} bytes long, but ${found}`,
    'read as 6 bytes',
  )
  return plain
}

/** A chunk name as text for a message: odd bytes as dots. */
export function chunkName(bytes: Uint8Array, at: number): string {
  return fourCharacters(bytes, at).replaceAll(/[^ -~]/g, '.')
}
