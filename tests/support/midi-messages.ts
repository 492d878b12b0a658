import type { MidiMessage } from '../../src/domain/midi-message.ts'
import type { Channel, Key, Velocity } from '../../src/domain/units.ts'

export function on(key: Key, velocity: Velocity = 100, channel: Channel = 1): MidiMessage {
  return { type: 'note-on', channel, key, velocity }
}

export function off(key: Key, channel: Channel = 1): MidiMessage {
  return { type: 'note-off', channel, key, velocity: 64 }
}

export function cc(controller: number, value: number, channel: Channel = 1): MidiMessage {
  return { type: 'controller', channel, controller, value }
}

/** 14 bits, centre 8192. */
export function bend(value: number, channel: Channel = 1): MidiMessage {
  return { type: 'bend', channel, value }
}

/** RPN 0, the bend range. */
export function bendRange(semitones: number, cents = 0, channel: Channel = 1): MidiMessage {
  return { type: 'parameter', registered: true, channel, parameter: 0, value: semitones * 128 + cents }
}
