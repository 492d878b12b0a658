import type { MidiMessage } from '../domain/midi-message.ts'

/**
 * How many data bytes follow a status byte, 80..FF except F0; -1 where MIDI 1.0 defines no message (F4 F5 F9 FD)
 * and for F7, which only ends a system exclusive. MIDI 1.0 Detailed Specification, summary of status bytes.
 */
export function dataBytesOf(status: number): 0 | 1 | 2 | -1 {
  if (status < 0xf0) return status >= 0xc0 && status < 0xe0 ? 1 : 2
  if (status >= 0xf8) return status === 0xf9 || status === 0xfd ? -1 : 0
  if (status === 0xf2) return 2
  if (status === 0xf1 || status === 0xf3) return 1
  return status === 0xf6 ? 0 : -1
}

/** A release nobody measured. MIDI 1.0: a device that does not sense release velocity sends 64. */
const PLAIN_RELEASE = 64

/**
 * The message of a status byte and its data bytes (0..127; those it does not have are ignored). The status must be one
 * for which `dataBytesOf` is not -1. A note-on of velocity 0 is a note-off, MIDI 1.0 Detailed Specification.
 */
export function messageOfBytes(status: number, first: number, second: number): MidiMessage {
  const channel = (status & 0x0f) + 1
  switch (status >> 4) {
    case 0x8:
      return { type: 'note-off', channel, key: first, velocity: second }
    case 0x9:
      return second === 0
        ? { type: 'note-off', channel, key: first, velocity: PLAIN_RELEASE }
        : { type: 'note-on', channel, key: first, velocity: second }
    case 0xa:
      return { type: 'key-pressure', channel, key: first, value: second }
    case 0xb:
      return { type: 'controller', channel, controller: first, value: second }
    case 0xc:
      return { type: 'program', channel, program: first }
    case 0xd:
      return { type: 'channel-pressure', channel, value: first }
    case 0xe:
      return { type: 'bend', channel, value: first | (second << 7) }
    default:
      return systemMessage(status, first, second)
  }
}

function systemMessage(status: number, first: number, second: number): MidiMessage {
  switch (status) {
    case 0xf1:
      return { type: 'quarter-frame', value: first }
    case 0xf2:
      return { type: 'song-position', position: first | (second << 7) }
    case 0xf3:
      return { type: 'song-select', song: first }
    case 0xf6:
      return { type: 'tune-request' }
    case 0xf8:
      return { type: 'clock' }
    case 0xfa:
      return { type: 'start' }
    case 0xfb:
      return { type: 'continue' }
    case 0xfc:
      return { type: 'stop' }
    case 0xfe:
      return { type: 'active-sensing' }
    default:
      return { type: 'reset' }
  }
}
