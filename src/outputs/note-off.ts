import type { MidiMessage } from '../domain/midi-message.ts'
import type { Channel, Key } from '../domain/units.ts'

/** 40h is what a sender without release velocity sends (MIDI 1.0 Detailed Specification, from memory). */
const RELEASE_VELOCITY = 64

export function noteOff(channel: Channel, key: Key): MidiMessage {
  return { type: 'note-off', channel, key, velocity: RELEASE_VELOCITY }
}
