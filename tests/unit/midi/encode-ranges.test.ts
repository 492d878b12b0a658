import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { encode } from '../../../src/midi/encode.ts'

const on = { type: 'note-on', channel: 1, key: 60, velocity: 64 } as const

test.each<[MidiMessage, string]>([
  [{ ...on, key: 128 }, 'note-on: key must be a whole number from 0 to 127, but is 128'],
  [{ ...on, key: 60.5 }, 'note-on: key must be a whole number from 0 to 127, but is 60.5'],
  [{ ...on, channel: 0 }, 'note-on: channel must be a whole number from 1 to 16, but is 0'],
  [
    { ...on, velocity: 0 },
    'note-on: velocity must be a whole number from 1 to 127, but is 0 (velocity 0 is a note-off: send one)',
  ],
  [
    { type: 'note-off', channel: 17, key: 1, velocity: 0 },
    'note-off: channel must be a whole number from 1 to 16, but is 17',
  ],
  [
    { type: 'controller', channel: 1, controller: 128, value: 0 },
    'controller: controller must be a whole number from 0 to 127, but is 128',
  ],
  [
    { type: 'program', channel: 1, program: -1 },
    'program: program must be a whole number from 0 to 127, but is -1',
  ],
  [
    { type: 'bend', channel: 1, value: 16384 },
    'bend: value must be a whole number from 0 to 16383, but is 16384',
  ],
  [{ type: 'sysex', data: [1, 0xf7] }, 'sysex: data[1] must be a whole number from 0 to 127, but is 247'],
  [
    { type: 'song-position', position: Number.NaN },
    'song-position: position must be a whole number from 0 to 16383, but is NaN',
  ],
  [
    { type: 'parameter', registered: true, channel: 1, parameter: 0x3fff, value: 0 },
    'parameter: parameter must be a whole number from 0 to 16382, but is 16383',
  ],
])('%j', (message, words) => {
  expect(() => encode(message)).toThrow(new RangeError(words))
})
