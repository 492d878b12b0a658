import type { MidiMessage } from '../domain/midi-message.ts'
import { hexByte, malformed, type Malformed } from './malformed.ts'
import { dataBytesOf, messageOfBytes } from './message-of-bytes.ts'

/**
 * The message of one whole MIDI 1.0 message's bytes, status first, as a port that cuts its input into messages gives
 * it. Anything else comes back as `malformed`, with all its bytes counted; nothing throws.
 */
export function decodeMessage(bytes: readonly number[] | Uint8Array): MidiMessage | Malformed {
  const length = bytes.length
  const bad = (why: string): Malformed => malformed(why, length)
  if (length === 0) return bad('no bytes where a message was expected')
  const status = bytes[0] as number
  for (let i = 0; i < length; i++) {
    const byte = bytes[i] as number
    if (byte !== (byte & 0xff)) return bad(`byte ${i + 1} is ${byte}, which is not a byte (0 to 255)`)
  }
  if (status < 0x80) return bad(`a message begins with a status byte (80 to FF), not with ${hexByte(status)}`)
  if (status === 0xf0) return decodeSysex(bytes, bad)
  const needed = dataBytesOf(status)
  if (needed < 0) return bad(`status ${hexByte(status)} begins no MIDI 1.0 message`)
  if (length !== needed + 1) {
    const fault = length <= needed ? 'too short' : 'too long'
    return bad(`${fault}: status ${hexByte(status)} takes ${needed} data byte(s), here are ${length - 1}`)
  }
  const first = (bytes[1] as number | undefined) ?? 0
  const second = (bytes[2] as number | undefined) ?? 0
  if (first > 0x7f) return bad(`data byte 1 is ${hexByte(first)}, over 7F`)
  if (second > 0x7f) return bad(`data byte 2 is ${hexByte(second)}, over 7F`)
  return messageOfBytes(status, first, second)
}

function decodeSysex(
  bytes: readonly number[] | Uint8Array,
  bad: (why: string) => Malformed,
): MidiMessage | Malformed {
  const last = bytes.length - 1
  if (last === 0 || bytes[last] !== 0xf7) return bad('system exclusive without its end (F7)')
  const data: number[] = []
  for (let i = 1; i < last; i++) {
    const byte = bytes[i] as number
    if (byte > 0x7f) return bad(`status ${hexByte(byte)} inside a system exclusive, at byte ${i + 1}`)
    data.push(byte)
  }
  return { type: 'sysex', data }
}
