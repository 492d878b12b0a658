import { parseMidi } from 'midi-file'
import { describe, expect, test } from 'vitest'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import { centsBetween } from '../../../src/domain/pitch.ts'
import type { Show } from '../../../src/domain/show.ts'
import { encode } from '../../../src/midi/encode.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { performanceBytes, skipWithoutPerformances } from '../../support/performances.ts'
import type { TakeBytes } from '../../support/played-take.ts'
import { playTake } from '../../support/played-take.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const LAMPS = ['fern', 'moss', 'reed', 'sedge', 'ivy', 'palm', 'lotus', 'iris', 'thyme', 'rue']

/** The whole keyboard on ten lamps that need no octave moved. */
function house(): Show {
  const { rig } = glasshouse() as { rig: { outputs: unknown; supplies: object[] } }
  const lamp = { output: 'wire', supply: 'bench', watts: 1, lowHz: 8, highHz: 20_000 }
  return validShow(
    glasshouse({
      rig: { ...rig, lamps: LAMPS.map((id, slot) => ({ id, slot, ...lamp })) },
      songs: [
        {
          id: 'tide',
          title: 'Tide table',
          parts: [{ id: 'lead', player: 'keys', lamps: LAMPS, strategy: { kind: 'lowest-free' } }],
        },
      ],
    } as never),
  )
}

function takeOf(path: string): TakeBytes[] {
  const read = readMidiFile(performanceBytes(path))
  if (!read.ok) throw new Error(read.error.what)
  return read.file.tracks
    .flatMap(({ events }) => events)
    .toSorted((a, b) => a.at - b.at)
    .map(({ at, message }) => ({ at, player: 'keys', bytes: encode(message) }))
}

interface Sounding {
  readonly at: number
  readonly key: number
  /** What the note is bent to as it ends, and for how long it has been. */
  readonly bendCents: number
  readonly still: number
}

/** Each note as it ends, by the package midi-file and a count of its own: MIDI 1.0, a bend of 14 bits over `range` semitones. */
function endings(path: string, range: number): Sounding[] {
  const { header, tracks } = parseMidi(performanceBytes(path))
  const perBeat = header.ticksPerBeat ?? 480
  const tempo = tracks.flat().findLast((event) => event.type === 'setTempo')
  const micros = (tempo?.type === 'setTempo' ? tempo.microsecondsPerBeat : 500_000) / perBeat
  const found: Sounding[] = []
  for (const track of tracks) {
    let tick = 0
    let bend = { value: 0, at: 0 }
    for (const event of track) {
      tick += event.deltaTime
      const at = tick * micros
      if (event.type === 'pitchBend') bend = { value: event.value, at }
      if (event.type === 'noteOff')
        found.push({
          at,
          key: event.noteNumber,
          bendCents: (bend.value / 8192) * range * 100,
          still: at - bend.at,
        })
    }
  }
  return found
}

describe('performances that others played, with bends', () => {
  skipWithoutPerformances()

  test('3,363 bends under running status: lamps follow, and each note ends on the pitch it was bent to', () => {
    const path = 'music21/test19.mid'
    const show = house()
    const take = takeOf(path)
    expect(take.filter(({ bytes }) => (bytes[0] ?? 0) >> 4 === 0xe)).toHaveLength(3363)
    const { events, graph } = playTake(show, 'tide', take)
    const frames = events.flatMap((event) => (event.kind === 'frame' ? [event] : []))
    const notes = endings(path, 2)
    expect(notes).toHaveLength(34)
    let settled = 0
    for (const { at, key, bendCents, still } of notes) {
      // What lamps were told last before the note ended.
      const told = frames
        .filter((frame) => frame.at < Math.round(at) - 1)
        .flatMap(({ changes }) => changes)
        .findLast(({ state }) => state.on && state.key === key)?.state
      const hz = told?.on ? told.hz : NaN
      if (still < 4000) continue
      settled++
      expect(Math.abs(centsBetween(hz, 440 * 2 ** ((key - 69) / 12)) - bendCents)).toBeLessThan(1e-6)
    }
    expect(settled).toBeGreaterThan(20)
    expect(graph.lamps.some(({ on }) => on)).toBe(false)
  })

  test('and what leaves for the wire is bounded: never more than one frame of changes in 4 ms, half the wire at most', () => {
    const { events } = playTake(house(), 'tide', takeOf('music21/test19.mid'))
    const frames = events.flatMap((event) => (event.kind === 'frame' ? [event] : []))
    const moving = frames.filter(({ changes }) => changes.every(({ state }) => state.on && !state.strike))
    expect(moving.length).toBeGreaterThan(500)
    const gaps = moving.slice(1).map(({ at }, place) => at - (moving[place]?.at ?? 0))
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(4000)
    const lamps = LAMPS.map((_, slot) => ({ slot, rate: 0x01020304, duty: 0x1122 }))
    const most = encodeFrame({ type: 'set', sequence: 1, at: 0, lamps }).length
    // 500,000 baud, ten bits a byte: 50 bytes a millisecond.
    expect(most / 50).toBeLessThan(Math.min(...gaps) / 1000 / 2)
  })

  test('RPN messages: the bend range of twelve semitones that the file sets is gone by', () => {
    const path = 'music21/test17.mid'
    const take = takeOf(path)
    const { events } = playTake(house(), 'tide', take)
    // Bends of a file that has none, after its own first strike on each of its three channels: a full bend down.
    const bent = takeOf(path).flatMap((one) => {
      const status = one.bytes[0] ?? 0
      const isStrike = status >> 4 === 9 && (one.bytes[2] ?? 0) > 0
      return isStrike ? [one, { ...one, at: one.at + 10_000, bytes: [0xe0 | (status & 15), 0, 0] }] : [one]
    })
    const down = playTake(
      house(),
      'tide',
      bent.toSorted((a, b) => a.at - b.at),
    )
    const struck = events.flatMap((event) =>
      event.kind === 'frame' ? event.changes.flatMap(({ state }) => (state.on ? [state] : [])) : [],
    )
    expect(struck.length).toBeGreaterThan(40)
    for (const lit of struck)
      expect(Math.abs(centsBetween(lit.hz, 440 * 2 ** ((lit.key - 69) / 12)))).toBeLessThan(1e-6)
    const after = down.events.flatMap((event) =>
      event.kind === 'frame'
        ? event.changes.flatMap(({ state }) => (state.on && !state.strike ? [state] : []))
        : [],
    )
    expect(after.length).toBeGreaterThan(2)
    for (const lit of after) {
      const cents = centsBetween(lit.hz, 440 * 2 ** ((lit.key - 69) / 12))
      // Lamps that cannot go down by a whole octave would have moved by octaves.
      expect(Math.abs(cents + 1200)).toBeLessThan(1e-6)
    }
  })
})
