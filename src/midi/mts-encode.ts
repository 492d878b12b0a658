import type { Channel } from '../domain/units.ts'
import type { MtsBulk, MtsKeys, MtsMessage, MtsOctave } from './mts-message.ts'
import {
  BANKED_BULK,
  BANKED_KEYS,
  BULK,
  checksum,
  KEY_COUNT,
  KEYS,
  MOST_CHANGES,
  NAME_LENGTH,
  NON_REAL_TIME,
  OCTAVE,
  OCTAVE_CENTRE,
  OCTAVE_FINE,
  OCTAVE_STEP,
  REAL_TIME,
  TUNING,
} from './mts-message.ts'
import type { MtsWord } from './mts-word.ts'
import { NO_CHANGE, wordBytes } from './mts-word.ts'

/**
 * What stands between F0 and F7 (MIDI Tuning Standard). Cents go to the nearest step, characters beyond ASCII to a question mark. Throws a RangeError that names
 * the field for what the bytes cannot hold.
 */
export function encodeMts(message: MtsMessage): number[] {
  switch (message.kind) {
    case 'keys':
      return keysData(message)
    case 'bulk':
      return bulkData(message)
    case 'octave':
      return octaveData(message)
  }
}

/** The same single-note changes as several messages, of `most` keys each (1 to 127), since a count is one byte. */
export function splitKeys(message: MtsKeys, most: number = MOST_CHANGES): MtsKeys[] {
  bounded('most', most, MOST_CHANGES, 1)
  const count = Math.ceil(message.changes.length / most)
  return Array.from({ length: count }, (_, place) => ({
    ...message,
    changes: message.changes.slice(place * most, (place + 1) * most),
  }))
}

function keysData({ device, realTime, bank, program, changes }: MtsKeys): number[] {
  if (bank === undefined && !realTime)
    throw new RangeError('mts: a single-note change without a bank is always in real time')
  const head = bank === undefined ? [KEYS] : [BANKED_KEYS, bounded('bank', bank)]
  return [
    kindByte(realTime),
    bounded('device', device),
    TUNING,
    ...head,
    bounded('program', program),
    bounded('count of changes', changes.length, MOST_CHANGES),
    ...changes.flatMap(({ key, word }) => [bounded('key', key), ...word3(word)]),
  ]
}

function bulkData({ device, bank, program, name, words }: MtsBulk): number[] {
  if (words.length !== KEY_COUNT)
    throw new RangeError(`mts: a bulk dump has ${KEY_COUNT} keys, but got ${words.length}`)
  const head = bank === undefined ? [BULK] : [BANKED_BULK, bounded('bank', bank)]
  const body = [
    NON_REAL_TIME,
    bounded('device', device),
    TUNING,
    ...head,
    bounded('program', program),
    ...nameBytes(name),
    ...words.flatMap(word3),
  ]
  return [...body, checksum(body)]
}

function octaveData({ device, realTime, channels, fine, cents }: MtsOctave): number[] {
  if (cents.length !== 12) throw new RangeError(`mts: an octave has 12 keys, but got ${cents.length}`)
  const form = fine ? 'fine' : 'coarse'
  const values = cents.map((one) =>
    bounded('cents', Math.round(one / OCTAVE_STEP[form]) + OCTAVE_CENTRE[form], fine ? 0x3fff : 0x7f),
  )
  return [
    kindByte(realTime),
    bounded('device', device),
    TUNING,
    fine ? OCTAVE_FINE : OCTAVE,
    ...maskBytes(channels),
    ...values.flatMap((value) => (fine ? [value >> 7, value & 0x7f] : [value])),
  ]
}

/** Channels 15 and 16 in the first byte, 8 to 14 in the second, 1 to 7 in the third, each from bit 0. */
function maskBytes(channels: readonly Channel[]): [number, number, number] {
  let mask = 0
  for (const channel of channels) mask |= 1 << (bounded('channel', channel, 16, 1) - 1)
  return [mask >> 14, (mask >> 7) & 0x7f, mask & 0x7f]
}

/** Sixteen characters: cut, or filled up with blanks. */
function nameBytes(name: string): number[] {
  const bytes = Array.from(name, (one) => {
    const code = one.codePointAt(0) ?? 0
    return code > 0x7f ? 0x3f : code
  })
  return Array.from({ length: NAME_LENGTH }, (_, place) => bytes[place] ?? 0x20)
}

function word3(word: MtsWord): number[] {
  return wordBytes(bounded('word', word, NO_CHANGE))
}

function kindByte(realTime: boolean): number {
  return realTime ? REAL_TIME : NON_REAL_TIME
}

function bounded(field: string, value: number, most = 127, least = 0): number {
  if (Number.isInteger(value) && value >= least && value <= most) return value
  throw new RangeError(`mts: ${field} must be a whole number from ${least} to ${most}, but is ${value}`)
}
