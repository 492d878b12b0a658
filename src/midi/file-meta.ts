import { textOfBytes } from './text-bytes.ts'

/** What a meta event says, as far as it matters here. */
export type Meta =
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'end' }
  | { readonly kind: 'tempo'; readonly microsPerBeat: number }
  | { readonly kind: 'time-signature'; readonly beats: number; readonly unit: number }
  | { readonly kind: 'other' }
  | { readonly kind: 'faulty'; readonly what: string }

/** Powers of two up to a 1024th note; more is damage. */
const MOST_UNIT_POWER = 10

/** Reads a meta event's data. Standard MIDI Files 1.0, "Meta-Events". */
export function readMeta(type: number, data: Uint8Array): Meta {
  switch (type) {
    case 0x03:
      return { kind: 'name', name: trimmed(textOfBytes(data)) }
    case 0x2f:
      return { kind: 'end' }
    case 0x51: {
      if (data.length < 3) return { kind: 'faulty', what: `a tempo takes 3 bytes, here are ${data.length}` }
      const microsPerBeat = ((data[0] ?? 0) << 16) | ((data[1] ?? 0) << 8) | (data[2] ?? 0)
      return microsPerBeat === 0
        ? { kind: 'faulty', what: 'a tempo of 0 microseconds a beat' }
        : { kind: 'tempo', microsPerBeat }
    }
    case 0x58: {
      const [beats = 0, power = 99] = data
      if (beats === 0 || power > MOST_UNIT_POWER) {
        return { kind: 'faulty', what: 'a time signature that makes no sense' }
      }
      return { kind: 'time-signature', beats, unit: 2 ** power }
    }
    default:
      return { kind: 'other' }
  }
}

/** Some writers pad names with blanks or end them with a zero byte. */
function trimmed(text: string): string {
  return text.replaceAll('\0', ' ').trim()
}
