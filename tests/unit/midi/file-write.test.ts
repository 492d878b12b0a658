import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { writeMidiFile } from '../../../src/midi/file-write.ts'
import type { MidiFile } from '../../../src/midi/file.ts'
import { END, file, header, track } from '../../support/midi-files.ts'

const on: MidiMessage = { type: 'note-on', channel: 1, key: 60, velocity: 64 }
const off: MidiMessage = { type: 'note-off', channel: 1, key: 60, velocity: 64 }

function readBack(bytes: Uint8Array): MidiFile {
  const result = readMidiFile(bytes)
  if (!result.ok) throw new Error(result.error.what)
  expect(result.file.warnings).toEqual([])
  return result.file
}

describe('writing a Standard MIDI File', () => {
  test('format 0, byte for byte', () => {
    const bytes = writeMidiFile({
      division: 480,
      timeSignature: { beats: 5, unit: 4 },
      tracks: [
        {
          name: 'reed',
          events: [
            { at: 0, message: on },
            { at: 500_000, message: off },
          ],
        },
      ],
    })
    const name = [0, 0xff, 3, 4, 0x72, 0x65, 0x65, 0x64]
    const tempo = [0, 0xff, 0x51, 3, 0x07, 0xa1, 0x20]
    const signature = [0, 0xff, 0x58, 4, 5, 2, 24, 8]
    const notes = [0, 0x90, 60, 64, 0x83, 0x60, 0x80, 60, 64]
    expect(bytes).toEqual(file(header(), track([...name, ...tempo, ...signature, ...notes, ...END])))
  })

  test('several tracks make a format 1 with the tempo in the first', () => {
    const result = readBack(
      writeMidiFile({
        division: 24000,
        tempo: 97.0625,
        tracks: ['fern', 'Färn', ''].map((name) => ({ name, events: [{ at: 1000, message: on }] })),
        endsAt: 2_000_000,
      }),
    )
    expect(result.format).toBe(1)
    expect(result.tracks.map(({ name }) => name)).toEqual(['fern', 'Färn', ''])
    expect(result.tempos).toMatchObject([{ track: 1, microsPerBeat: Math.round(60_000_000 / 97.0625) }])
    expect(Math.abs(result.endsAt - 2_000_000)).toBeLessThanOrEqual(13)
  })

  test('an hour of events does not drift: each within half a tick', () => {
    const events = Array.from({ length: 36_000 }, (_, i) => ({ at: i * 100_003, message: i % 2 ? off : on }))
    const [first] = readBack(
      writeMidiFile({ division: 24000, tempo: 97.0625, tracks: [{ name: '', events }] }),
    ).tracks
    const halfTick = 618_159 / 24000 / 2 + 0.5
    const worst = Math.max(...(first?.events ?? []).map(({ at }, i) => Math.abs(at - i * 100_003)))
    expect(first?.events.length).toBe(36_000)
    expect(worst).toBeLessThanOrEqual(halfTick)
  })

  test('a silence longer than a delta time can say is bridged', () => {
    const day = 86_400_000_000
    const result = readBack(
      writeMidiFile({ division: 24000, tracks: [{ name: '', events: [{ at: day / 4, message: on }] }] }),
    )
    expect(result.tracks[0]?.events).toEqual([{ at: day / 4, tick: 1_036_800_000, message: on }])
  })

  test('system messages and parameters come back', () => {
    const messages: MidiMessage[] = [
      { type: 'sysex', data: Array.from({ length: 200 }, (_, i) => i % 128) },
      { type: 'clock' },
      { type: 'reset' },
      { type: 'song-position', position: 300 },
    ]
    const parameter = {
      type: 'parameter',
      registered: true,
      channel: 1,
      parameter: 0,
      value: 256,
    } as const
    const events = [...messages, parameter].map((message) => ({ at: 0, message }))
    const back = readBack(writeMidiFile({ division: 96, tracks: [{ name: '', events }] })).tracks[0]
    expect(back?.events.slice(0, 4).map(({ message }) => message)).toEqual(messages)
    expect(back?.events.slice(4)).toHaveLength(6)
  })

  test('events out of order are put in order; those of one time stay as given', () => {
    const events = [
      { at: 1_000_000, message: on },
      { at: 0, message: off },
      { at: 0, message: on },
    ]
    const back = readBack(writeMidiFile({ division: 480, tracks: [{ name: '', events }] })).tracks[0]
    expect(back?.events.map(({ message }) => message)).toEqual([off, on, on])
  })

  test.each([
    [{ division: 0, tracks: [] }, 'division must be a whole number from 1 to 32767, but is 0'],
    [{ division: 480, tracks: [] }, 'number of tracks must be a whole number from 1 to 65535, but is 0'],
    [
      { division: 480, tempo: 1, tracks: [{ name: '', events: [] }] },
      'microseconds a beat (60,000,000 / tempo) must be a whole number from 1 to 16777215, but is 60000000',
    ],
    [
      { division: 480, tracks: [{ name: '', events: [{ at: -1, message: on }] }] },
      'time of an event of track 1 must be a whole number from 0 to 9007199254740991, but is -1',
    ],
    [
      { division: 480, timeSignature: { beats: 4, unit: 3 }, tracks: [{ name: '', events: [] }] },
      'timeSignature.unit must be a power of two from 1 to 1024, but is 3',
    ],
  ])('%j is refused', (content, words) => {
    expect(() => writeMidiFile(content)).toThrow(new RangeError(words))
  })
})
