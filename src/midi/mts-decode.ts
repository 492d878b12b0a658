import type { Cents, Channel } from '../domain/units.ts'
import { hexByte } from './malformed.ts'
import type { MtsBulk, MtsFault, MtsKeys, MtsMessage, MtsOctave } from './mts-message.ts'
import {
  BANKED_BULK,
  BANKED_KEYS,
  BULK,
  checksum,
  KEY_COUNT,
  KEYS,
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
import { bytesWord } from './mts-word.ts'

/**
 * What a system exclusive (what stands between F0 and F7) says by the MIDI Tuning Standard. Undefined for one of another kind. One that is not as it should be, in
 * length, count, bytes or checksum, or of a sub-ID that is not known, is a fault as a whole; no input throws.
 */
export function decodeMts(data: readonly number[]): MtsMessage | MtsFault | undefined {
  const [kind, device = 0, sub, form] = data
  if ((kind !== REAL_TIME && kind !== NON_REAL_TIME) || sub !== TUNING) return undefined
  const wrong = data.findIndex((byte) => !(Number.isInteger(byte) && byte >= 0 && byte <= 0x7f))
  if (wrong >= 0) return fault(`byte ${wrong + 1} is ${data[wrong]}, and all must be 0 to 127`)
  if (form === undefined) return fault('it ends before it says what it is')
  const realTime = kind === REAL_TIME
  const body = data.slice(4)
  switch (form) {
    case KEYS:
      return realTime ? keys({ device, realTime }, body) : unknown(kind, form)
    case BANKED_KEYS:
      return banked(body, (bank, rest) => keys({ device, realTime, bank }, rest))
    case BULK:
      return realTime ? unknown(kind, form) : bulk({ device }, body, data)
    case BANKED_BULK:
      if (realTime) return unknown(kind, form)
      return banked(body, (bank, rest) => bulk({ device, bank }, rest, data))
    case OCTAVE:
    case OCTAVE_FINE:
      return octave({ device, realTime, fine: form === OCTAVE_FINE }, body)
    default:
      return unknown(kind, form)
  }
}

function fault(why: string): MtsFault {
  return { kind: 'fault', why }
}

function unknown(kind: number, form: number): MtsFault {
  return fault(`sub-ID ${hexByte(form)} of ${hexByte(kind)} 08 is not one that is understood`)
}

function banked(
  [bank, ...rest]: readonly number[],
  read: (bank: number, rest: readonly number[]) => MtsMessage | MtsFault,
): MtsMessage | MtsFault {
  return bank === undefined ? fault('it ends before its bank') : read(bank, rest)
}

function keys(head: Pick<MtsKeys, 'device' | 'realTime' | 'bank'>, body: readonly number[]) {
  const [program, count] = body
  if (program === undefined || count === undefined) return fault('it ends before its count of changes')
  const rest = body.slice(2)
  if (rest.length !== count * 4)
    return fault(`${count} changes are ${count * 4} bytes, and ${rest.length} came`)
  const changes = Array.from({ length: count }, (_, place) => ({
    key: rest[place * 4] ?? 0,
    word: wordAt(rest, place * 4 + 1),
  }))
  return { kind: 'keys', ...head, program, changes } satisfies MtsKeys
}

function bulk(
  head: Pick<MtsBulk, 'device' | 'bank'>,
  body: readonly number[],
  data: readonly number[],
): MtsBulk | MtsFault {
  const length = 1 + NAME_LENGTH + KEY_COUNT * 3 + 1
  if (body.length !== length)
    return fault(`a dump has ${length} bytes from its program on, and ${body.length} came`)
  const sum = checksum(data.slice(0, -1))
  const told = data.at(-1) ?? 0
  if (sum !== told) return fault(`its checksum is ${hexByte(told)} and should be ${hexByte(sum)}`)
  const [program = 0] = body
  const name = String.fromCharCode(...body.slice(1, 1 + NAME_LENGTH))
  const words = Array.from({ length: KEY_COUNT }, (_, key) => wordAt(body, 1 + NAME_LENGTH + key * 3))
  return { kind: 'bulk', ...head, program, name, words }
}

function octave(
  head: Pick<MtsOctave, 'device' | 'realTime' | 'fine'>,
  body: readonly number[],
): MtsOctave | MtsFault {
  const length = 3 + 12 * (head.fine ? 2 : 1)
  if (body.length !== length)
    return fault(`an octave has ${length} bytes from its channels on, and ${body.length} came`)
  const [high = 0, middle = 0, low = 0] = body
  const rest = body.slice(3)
  const cents = Array.from({ length: 12 }, (_, place): Cents => {
    if (!head.fine) return ((rest[place] ?? 0) - OCTAVE_CENTRE.coarse) * OCTAVE_STEP.coarse
    const value = ((rest[place * 2] ?? 0) << 7) | (rest[place * 2 + 1] ?? 0)
    return (value - OCTAVE_CENTRE.fine) * OCTAVE_STEP.fine
  })
  return { kind: 'octave', ...head, channels: channelsOf(bytesWord(high, middle, low)), cents }
}

/** Bits of the first byte beyond channel 16 are reserved, and passed over. */
function channelsOf(mask: number): Channel[] {
  return Array.from({ length: 16 }, (_, place) => place + 1).filter((channel) => mask & (1 << (channel - 1)))
}

function wordAt(bytes: readonly number[], at: number): MtsWord {
  return bytesWord(bytes[at] ?? 0, bytes[at + 1] ?? 0, bytes[at + 2] ?? 0)
}
