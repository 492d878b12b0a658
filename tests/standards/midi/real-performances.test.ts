import { describe, expect, test } from 'vitest'
import type { MidiFile } from '../../../src/midi/file.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { parameters } from '../../../src/midi/parameters.ts'
import { performanceBytes, performancePaths, skipWithoutPerformances } from '../../support/performances.ts'

function read(path: string): MidiFile {
  const result = readMidiFile(performanceBytes(path))
  if (!result.ok) throw new Error(result.error.what)
  return result.file
}

function count(file: MidiFile, type: string): number {
  return file.tracks.flatMap((track) => track.events).filter((event) => event.message.type === type).length
}

// Counts: SOURCES.md beside the files; those of the drums counted with the package midi-file 1.2.4.
describe('files that others wrote', () => {
  skipWithoutPerformances()

  test('keyboard piece mozart_k265_var1: 219 notes, 73 sustain changes', () => {
    const file = read('partitura/mozart_k265_var1.mid')
    const pedal = file.tracks
      .flatMap((track) => track.events)
      .filter((event) => event.message.type === 'controller' && event.message.controller === 64)
    expect([count(file, 'note-on'), count(file, 'note-off'), pedal.length]).toEqual([219, 219, 73])
    expect(file.warnings).toEqual([])
  })

  test('keyboard piece bach_midi_score: 810 notes', () => {
    const file = read('partitura/bach_midi_score.mid')
    expect([count(file, 'note-on'), count(file, 'note-off')]).toEqual([810, 810])
  })

  test('test19: 3363 bends under running status', () => {
    expect(count(read('music21/test19.mid'), 'bend')).toBe(3363)
  })

  test('test17: its controllers set registered parameters', () => {
    let state = parameters.start()
    const found: unknown[] = []
    for (const { message } of read('music21/test17.mid').tracks.flatMap((track) => track.events)) {
      const step = parameters.step(state, message, 0)
      state = step.state
      for (const out of step.out) if (out.type === 'parameter') found.push(out)
    }
    expect(found.length).toBeGreaterThan(0)
    expect(found[0]).toMatchObject({ registered: true, parameter: 0 })
  })

  test.each([
    ['groove/drummer1-1_funk-groove1_138_beat_4-4.mid', 410],
    ['groove/drummer1-8_rock-groove8_65_beat_4-4.mid', 226],
    ['groove/drummer5-6_hiphop-groove6_87_beat_4-4.mid', 248],
    ['groove/drummer7-3_soul-groove3_86_beat_4-4.mid', 415],
    ['groove/drummer8-7_pop-groove7_138_beat_4-4.mid', 197],
  ])('drums %s: %i hits, all on channel 10', (path, hits) => {
    const file = read(path)
    expect(count(file, 'note-on')).toBe(hits)
    const channels = file.tracks[0]?.events.map(({ message }) => ('channel' in message ? message.channel : 0))
    expect(new Set(channels)).toEqual(new Set([10]))
  })

  test('every one is read without an error', () => {
    const paths = performancePaths()
    expect(paths.length).toBeGreaterThanOrEqual(9)
    expect(paths.filter((path) => !readMidiFile(performanceBytes(path)).ok)).toEqual([])
  })
})
