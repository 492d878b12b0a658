import { describe, expect, test } from 'vitest'
import { decodeBytes, noteOff, noteOn } from '../../support/decoding.ts'

// Source of every check in this file: MIDI Association, MIDI 1.0 Detailed Specification.
describe('MIDI 1.0 Detailed Specification: a stream of bytes', () => {
  test('a note-on of velocity 0 is a note-off; release velocity 64 where none was measured', () => {
    expect(decodeBytes(0x90, 60, 0)).toEqual([noteOff(60, 64)])
  })

  test('running status: the status byte is left out while it stays the same', () => {
    expect(decodeBytes(0x92, 60, 100, 62, 90, 60, 0)).toEqual([
      noteOn(60, 100, 3),
      noteOn(62, 90, 3),
      noteOff(60, 64, 3),
    ])
  })

  test.each([
    [0xf8, 'clock'],
    [0xfa, 'start'],
    [0xfb, 'continue'],
    [0xfc, 'stop'],
    [0xfe, 'active-sensing'],
    [0xff, 'reset'],
  ])('real-time byte %i may stand between data bytes and leaves running status alone', (byte, type) => {
    expect(decodeBytes(0x90, byte, 60, byte, 100, 62, byte, 100)).toEqual([
      { type },
      { type },
      noteOn(60, 100),
      { type },
      noteOn(62, 100),
    ])
  })

  test('real-time bytes may stand inside a system exclusive', () => {
    expect(decodeBytes(0xf0, 0x7d, 0xf8, 1, 0xfe, 2, 0xf7)).toEqual([
      { type: 'clock' },
      { type: 'active-sensing' },
      { type: 'sysex', data: [0x7d, 1, 2] },
    ])
  })

  test.each([
    ['F0 … F7', [0xf0, 0x7d, 0xf7]],
    ['F1', [0xf1, 0x23]],
    ['F2', [0xf2, 1, 2]],
    ['F3', [0xf3, 5]],
    ['F4', [0xf4]],
    ['F5', [0xf5]],
    ['F6', [0xf6]],
    ['F7', [0xf7]],
  ])('%s ends running status', (_name, bytes) => {
    const out = decodeBytes(0x90, 60, 100, ...bytes, 62, 100)
    expect(out.filter((message) => message.type === 'note-on')).toEqual([noteOn(60, 100)])
    expect(out.at(-1)).toMatchObject({
      type: 'malformed',
      why: expect.stringContaining('without a status byte'),
    })
  })

  test('song position comes lower half first', () => {
    expect(decodeBytes(0xf2, 0x01, 0x02)).toEqual([{ type: 'song-position', position: 257 }])
  })

  test('bend comes lower half first; 00 40 is the centre', () => {
    expect(decodeBytes(0xe0, 0x00, 0x40, 0x7f, 0x7f, 0x00, 0x00)).toEqual(
      [8192, 16383, 0].map((value) => ({ type: 'bend', channel: 1, value })),
    )
  })
})
