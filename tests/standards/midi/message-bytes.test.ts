import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { decodeMessage } from '../../../src/midi/decode-message.ts'
import { encode } from '../../../src/midi/encode.ts'

// Source: MIDI Association, MIDI 1.0 Detailed Specification, summary of status bytes and of data bytes.
const TABLE: readonly [string, MidiMessage][] = [
  ['80 3C 40', { type: 'note-off', channel: 1, key: 60, velocity: 64 }],
  ['9F 45 01', { type: 'note-on', channel: 16, key: 69, velocity: 1 }],
  ['A1 3C 7F', { type: 'key-pressure', channel: 2, key: 60, value: 127 }],
  ['B2 40 7F', { type: 'controller', channel: 3, controller: 64, value: 127 }],
  ['C3 05', { type: 'program', channel: 4, program: 5 }],
  ['D4 30', { type: 'channel-pressure', channel: 5, value: 48 }],
  ['E5 00 40', { type: 'bend', channel: 6, value: 8192 }],
  ['F0 7D 01 F7', { type: 'sysex', data: [0x7d, 1] }],
  ['F1 35', { type: 'quarter-frame', value: 0x35 }],
  ['F2 08 00', { type: 'song-position', position: 8 }],
  ['F3 02', { type: 'song-select', song: 2 }],
  ['F6', { type: 'tune-request' }],
  ['F8', { type: 'clock' }],
  ['FA', { type: 'start' }],
  ['FB', { type: 'continue' }],
  ['FC', { type: 'stop' }],
  ['FE', { type: 'active-sensing' }],
  ['FF', { type: 'reset' }],
]

test.each(TABLE)('%s', (hex, message) => {
  const bytes = hex.split(' ').map((byte) => Number.parseInt(byte, 16))
  expect(encode(message)).toEqual(bytes)
  expect(decodeMessage(bytes)).toEqual(message)
})
