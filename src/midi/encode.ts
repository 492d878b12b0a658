import type { MidiMessage } from '../domain/midi-message.ts'
import {
  CC_DATA_ENTRY_LSB,
  CC_DATA_ENTRY_MSB,
  CC_NON_REGISTERED_LSB,
  CC_NON_REGISTERED_MSB,
  CC_REGISTERED_LSB,
  CC_REGISTERED_MSB,
  PARAMETER_NULL,
} from './controllers.ts'

/**
 * A message's bytes, MIDI 1.0 Detailed Specification; no running status. A `parameter` is its six controllers: number
 * (101 100, or 99 98), value (6 38), then null (101 100 = 7F 7F), so that no later data entry hits it by mistake.
 * Throws a RangeError that names the field for a number its bytes cannot hold.
 */
export function encode(message: MidiMessage): number[] {
  switch (message.type) {
    case 'note-on':
      return note(message, 0x90, 'velocity', bounded(message, 'velocity', message.velocity, 127, 1))
    case 'note-off':
      return note(message, 0x80, 'velocity', message.velocity)
    case 'key-pressure':
      return note(message, 0xa0, 'value', message.value)
    case 'controller': {
      const controller = bounded(message, 'controller', message.controller, 127)
      return [status(message, 0xb0), controller, bounded(message, 'value', message.value, 127)]
    }
    case 'program':
      return [status(message, 0xc0), bounded(message, 'program', message.program, 127)]
    case 'channel-pressure':
      return [status(message, 0xd0), bounded(message, 'value', message.value, 127)]
    case 'bend':
      return [status(message, 0xe0), ...lsbFirst(bounded(message, 'value', message.value, 0x3fff))]
    case 'parameter':
      return parameter(message)
    case 'sysex':
      return [0xf0, ...sysexData(message.data), 0xf7]
    case 'quarter-frame':
      return [0xf1, bounded(message, 'value', message.value, 127)]
    case 'song-position':
      return [0xf2, ...lsbFirst(bounded(message, 'position', message.position, 0x3fff))]
    case 'song-select':
      return [0xf3, bounded(message, 'song', message.song, 127)]
    default:
      return [SINGLE_BYTE[message.type]]
  }
}

const SINGLE_BYTE = {
  'tune-request': 0xf6,
  clock: 0xf8,
  start: 0xfa,
  continue: 0xfb,
  stop: 0xfc,
  'active-sensing': 0xfe,
  reset: 0xff,
} as const

type OnChannel = Extract<MidiMessage, { channel: number }>
type OnKey = Extract<MidiMessage, { key: number }>

function bounded(message: MidiMessage, field: string, value: number, most: number, least = 0): number {
  if (Number.isInteger(value) && value >= least && value <= most) return value
  const hint =
    message.type === 'note-on' && field === 'velocity' && value === 0
      ? ' (velocity 0 is a note-off: send one)'
      : ''
  throw new RangeError(
    `${message.type}: ${field} must be a whole number from ${least} to ${most}, but is ${value}${hint}`,
  )
}

function status(message: OnChannel, kind: number): number {
  return kind | (bounded(message, 'channel', message.channel, 16, 1) - 1)
}

function note(message: OnKey, kind: number, field: string, value: number): number[] {
  const key = bounded(message, 'key', message.key, 127)
  return [status(message, kind), key, bounded(message, field, value, 127)]
}

function lsbFirst(value: number): [number, number] {
  return [value & 0x7f, value >> 7]
}

function sysexData(data: readonly number[]): readonly number[] {
  const at = data.findIndex((byte) => !(Number.isInteger(byte) && byte >= 0 && byte <= 127))
  if (at < 0) return data
  throw new RangeError(`sysex: data[${at}] must be a whole number from 0 to 127, but is ${data[at]}`)
}

function parameter(message: Extract<MidiMessage, { type: 'parameter' }>): number[] {
  const control = status(message, 0xb0)
  // 3FFF is the null parameter: nothing could be set by it.
  const number = bounded(message, 'parameter', message.parameter, PARAMETER_NULL - 1)
  const value = bounded(message, 'value', message.value, 0x3fff)
  const msb = message.registered ? CC_REGISTERED_MSB : CC_NON_REGISTERED_MSB
  const lsb = message.registered ? CC_REGISTERED_LSB : CC_NON_REGISTERED_LSB
  const pairs = [
    [msb, number >> 7],
    [lsb, number & 0x7f],
    [CC_DATA_ENTRY_MSB, value >> 7],
    [CC_DATA_ENTRY_LSB, value & 0x7f],
    [CC_REGISTERED_MSB, 0x7f],
    [CC_REGISTERED_LSB, 0x7f],
  ] as const
  return pairs.flatMap(([controller, data]) => [control, controller, data])
}
