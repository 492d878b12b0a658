import { describe, expect, test } from 'vitest'
import type { MidiFile } from '../../../src/midi/file.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { characters, END, file, header, NOTE, tempo, track, word } from '../../support/midi-files.ts'

function read(bytes: Uint8Array): MidiFile {
  const result = readMidiFile(bytes)
  if (!result.ok) throw new Error(result.error.what)
  expect(result.file.warnings).toEqual([])
  return result.file
}

const times = (result: MidiFile): number[][] => result.tracks.map(({ events }) => events.map(({ at }) => at))
/** A name event. */
function name(...bytes: number[]): number[] {
  return [0, 0xff, 3, bytes.length, ...bytes]
}

const good = track([...NOTE, ...END])

describe('Standard MIDI Files', () => {
  test('format 0: one track, its times and its end', () => {
    const result = read(file(header(), track([...tempo(1_000_000), ...NOTE, 0x83, 0x60, 0xff, 0x2f, 0])))
    expect(result.format).toBe(0)
    expect(times(result)).toEqual([[0, 1_000_000]])
    expect(result.tracks[0]?.events[1]).toEqual({
      at: 1_000_000,
      tick: 480,
      message: { type: 'note-off', channel: 1, key: 60, velocity: 64 },
    })
    expect(result.endsAt).toBe(2_000_000)
  })

  test('format 1: a tempo on any track holds for all', () => {
    const second = track([...tempo(250_000, [0x81, 0x70]), ...END])
    const result = read(file(header({ format: 1, tracks: 2 }), good, second))
    expect(times(result)[0]).toEqual([0, 375_000])
    expect(result.tempos).toEqual([{ at: 250_000, tick: 240, track: 2, microsPerBeat: 250_000 }])
  })

  test('format 2: patterns one after the other, each in its own tempo', () => {
    const slow = track([...tempo(1_000_000), ...NOTE, ...END])
    const result = read(file(header({ format: 2, tracks: 3 }), good, slow, good))
    expect(times(result)).toEqual([
      [0, 500_000],
      [500_000, 1_500_000],
      [1_500_000, 2_000_000],
    ])
    expect(result.endsAt).toBe(2_000_000)
  })

  test('SMPTE division: 25 frames of 40 ticks are milliseconds, whatever the tempo', () => {
    const result = read(file(header({ division: 0xe728 }), track([...tempo(1_000_000), ...NOTE, ...END])))
    expect(result.division).toEqual({ kind: 'frames', framesPerSecond: 25, ticksPerFrame: 40 })
    expect(times(result)).toEqual([[0, 480_000]])
  })

  test('time signatures', () => {
    const result = read(file(header(), track([0x83, 0x60, 0xff, 0x58, 4, 7, 3, 24, 8, ...END])))
    expect(result.timeSignatures).toEqual([{ at: 500_000, tick: 480, track: 1, beats: 7, unit: 8 }])
  })

  test('names: UTF-8, or Latin-1 where it is none; the first one counts', () => {
    const result = read(
      file(
        header({ format: 1, tracks: 3 }),
        track([...name(0x46, 0xc3, 0xa4, 0x72, 0x6e), ...name(0x58), ...END]),
        track([...name(0x46, 0xe4, 0x72, 0x6e, 0x20, 0), ...END]),
        track(END),
      ),
    )
    expect(result.tracks.map((each) => each.name)).toEqual(['Färn', 'Färn', ''])
  })

  test('a system exclusive in one packet, and one split over time', () => {
    const split = [0, 0xf0, 3, 0x7d, 1, 2, 0x83, 0x60, 0xf7, 2, 3, 0xf7]
    const result = read(file(header(), track([0, 0xf0, 2, 0x7d, 0xf7, ...split, ...END])))
    expect(result.tracks[0]?.events).toEqual([
      { at: 0, tick: 0, message: { type: 'sysex', data: [0x7d] } },
      { at: 500_000, tick: 480, message: { type: 'sysex', data: [0x7d, 1, 2, 3] } },
    ])
  })

  test('an escape packet may hold any message', () => {
    const result = read(file(header(), track([0, 0xf7, 4, 0xf8, 0xf2, 1, 2, 0, 0xf7, 1, 0xff, ...END])))
    expect(result.tracks[0]?.events.map(({ message }) => message.type)).toEqual([
      'clock',
      'song-position',
      'reset',
    ])
  })

  test('foreign chunks are skipped, a longer header is allowed', () => {
    const foreign = [...characters('XFIH'), ...word(3, 4), 1, 2, 3]
    const result = read(file(header({ length: 8 }), [9, 9], foreign, good, foreign))
    expect(times(result)).toEqual([[0, 500_000]])
  })

  test('wrapped in RIFF, after another chunk of odd length', () => {
    const inside = [...header(), ...good]
    const list = [...characters('LIST'), 3, 0, 0, 0, 1, 2, 3, 0]
    const data = [...characters('data'), inside.length, 0, 0, 0, ...inside]
    const result = read(file(characters('RIFF'), word(0, 4), characters('RMID'), list, data, [0]))
    expect(times(result)).toEqual([[0, 500_000]])
  })

  test('a quantity with zeros before it is taken', () => {
    const result = read(file(header(), track([0x80, 0x80, 0x80, 0x80, 0x83, 0x60, 0x90, 60, 64, ...END])))
    expect(times(result)).toEqual([[500_000]])
  })
})
