import { describe, expect, test } from 'vitest'
import type { LampChange } from '../../../../src/domain/lamp-state.ts'
import type { Show } from '../../../../src/domain/show.ts'
import type { FlashFigure } from '../../../../src/guards/flash/flash-figures.ts'
import { createFlashFigures } from '../../../../src/guards/flash/flash-figures.ts'
import { readMidiFile } from '../../../../src/midi/file-read.ts'
import { render } from '../../../../src/offline/render.ts'
import { routeTake } from '../../../../src/offline/take.ts'
import { encode } from '../../../../src/midi/encode.ts'
import { countedFlashes } from '../../../support/counted-flashes.ts'
import { GraphRun } from '../../../support/graph-run.ts'
import { performanceBytes, performancePaths, skipWithoutPerformances } from '../../../support/performances.ts'
import type { RawShow } from '../../../support/shows.ts'
import { glasshouse, GLASSHOUSE_LAMPS } from '../../../support/shows.ts'
import { validShow } from '../../../support/valid-show.ts'

const MS = 1000
const SECOND = 1_000_000

function house(kind: string, player: RawShow = { kind: 'keys' }, more: RawShow = {}): Show {
  const channels = Array.from({ length: 16 }, (_, channel) => channel + 1)
  const part = { id: 'lead', player: 'band', lamps: [...GLASSHOUSE_LAMPS], strategy: { kind } }
  return validShow(
    glasshouse({
      players: [{ id: 'band', input: { port: 'Band', channels }, ...player }],
      songs: [{ id: 'tide', title: 'Tide table', parts: [part] }],
      ...more,
    }),
  )
}

type Stroke = readonly [ms: number, key: number, forMs: number]

/** What is struck as it is told to lamps, and its figures; counted the long way they are the same. */
function taken(show: Show, strokes: readonly Stroke[], endMs: number): FlashFigure {
  const run = new GraphRun(show)
  const bytes = strokes
    .flatMap(([ms, key, forMs]) => [
      { ms, bytes: [0x90, key, 100] },
      { ms: ms + forMs, bytes: [0x80, key, 64] },
    ])
    .toSorted((a, b) => a.ms - b.ms)
  for (const each of bytes) run.graph.play('band', each.bytes, each.ms * MS)
  run.graph.advance(endMs * MS)
  return figuresOf(show, run.of('frame'), endMs * MS)
}

function figuresOf(
  { rig }: Show,
  frames: readonly { at: number; changes: readonly LampChange[] }[],
  end: number,
): FlashFigure {
  const ids = rig.lamps.map(({ id }) => id)
  const figures = createFlashFigures(ids)
  for (const { at, changes } of frames) figures.frame(at, changes)
  const figure = figures.finish(end)
  expect(figure).toEqual(countedFlashes(ids, frames, end))
  return figure
}

describe('made takes, by arithmetic and by a count of every pulse', () => {
  test('a voice on four lamps, gated ten times a second: ten flashes in a second, of all lamps together', () => {
    const strokes = Array.from({ length: 40 }, (_, time): Stroke => [time * 100, 69, 50])
    const { lamps, ...field } = taken(house('unison'), strokes, 6000)
    // 40 onsets: 39 gaps of 0.1 s, and 40 times 0.05 s lit.
    expect(field).toEqual({
      perSecondMax: 10,
      bandSeconds: 3.9,
      fieldPerSecondMax: 10,
      under60Seconds: 3.9,
      litShareMax: 1,
      flashShareMax: 1,
    })
    for (const id of GLASSHOUSE_LAMPS)
      expect(lamps[id]).toEqual({
        perSecondMax: 10,
        bandSeconds: 3.9,
        under60Seconds: 3.9,
        litSeconds: 2,
        rates: [{ hz: 440, seconds: 2 }],
      })
  })

  test('a note of 20 Hz, held for three seconds: twenty flashes in a second, by one lamp', () => {
    // Key 69 at 20 Hz: 16 MHz / (64 x 12,500) to the last bit.
    const tunings = [{ id: 'slow', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 20 }]
    const show = house('lowest-free', { kind: 'keys' }, { tunings, ...songIn('slow') })
    const { lamps, ...field } = taken(show, [[100, 69, 3000]], 5000)
    expect(field).toEqual({
      perSecondMax: 20,
      bandSeconds: 3,
      fieldPerSecondMax: 20,
      under60Seconds: 3,
      litShareMax: 0.25,
      flashShareMax: 0.25,
    })
    // The nearest twelfth of an octave from 440 Hz: 54 below is 19.445 Hz, 53 is 20.602 Hz.
    expect(lamps['fern']).toMatchObject({ perSecondMax: 20, rates: [{ hz: 19.4454, seconds: 3 }] })
    expect(lamps['moss']).toEqual({
      perSecondMax: 0,
      bandSeconds: 0,
      under60Seconds: 0,
      litSeconds: 0,
      rates: [],
    })
  })

  test('a slow pad: long chords are one flash each, and a chord is all lamps at once', () => {
    const chords = [0, 1, 2, 3].flatMap((chord) =>
      [60, 64, 67, 71].map((key, voice): Stroke => [chord * 4000 + voice * 25, key + chord, 3500]),
    )
    const { lamps, ...field } = taken(house('lowest-free'), chords, 17_000)
    // Falls of a chord are 75 ms in all, and chords are 4 s apart.
    expect(field).toEqual({
      perSecondMax: 1,
      bandSeconds: 0,
      fieldPerSecondMax: 1,
      under60Seconds: 0,
      litShareMax: 1,
      flashShareMax: 1,
    })
    expect(lamps['fern']!.litSeconds).toBe(14)
    expect(lamps['fern']!.rates).toHaveLength(4)
  })

  test('a roll of strokes 80 ms apart on a pad whose gate is 30 ms: thirteen in a second at most', () => {
    const strokes = Array.from({ length: 50 }, (_, time): Stroke => [time * 80, 60, 5])
    const pads = { kind: 'pads', gateMs: 30, maskMs: 0, crosstalkMs: 0, floor: 0 }
    const { lamps, ...field } = taken(house('lowest-free', pads), strokes, 6000)
    // 12.5 a second: 13 falls span 12 x 80 ms = 0.96 s; 49 gaps of 0.08 s.
    expect(field).toMatchObject({ perSecondMax: 13, fieldPerSecondMax: 13, bandSeconds: 3.92 })
    expect(lamps['fern']).toMatchObject({ litSeconds: 1.5, perSecondMax: 13 })
  })

  test('the same roll over four lamps in turn: thirteen of the field, and each lamp a quarter of them', () => {
    const strokes = Array.from({ length: 50 }, (_, time): Stroke => [time * 80, 60, 5])
    const pads = { kind: 'pads', gateMs: 30, maskMs: 0, crosstalkMs: 0, floor: 0 }
    const { lamps, ...field } = taken(house('rotate', pads), strokes, 6000)
    // A lamp is struck every 0.32 s, which is in the band: 3.125 Hz. Its gaps follow each other from its first stroke to its last; strokes 0 to 49 begin and end the field's.
    expect(field).toMatchObject({ perSecondMax: 13, fieldPerSecondMax: 13, flashShareMax: 0.25 })
    expect(field.bandSeconds).toBe(3.92)
    expect(lamps['fern']).toMatchObject({ perSecondMax: 4, bandSeconds: 12 * 0.32 })
  })
})

function songIn(tuning: string): RawShow {
  const part = {
    id: 'lead',
    player: 'band',
    lamps: [...GLASSHOUSE_LAMPS],
    strategy: { kind: 'lowest-free' },
  }
  return { songs: [{ id: 'tide', title: 'Tide table', tuning, parts: [part] }] }
}

describe('real performances (Groove MIDI Dataset; test data of partitura and of music21)', () => {
  skipWithoutPerformances()
  const paths = performancePaths()

  test.each(paths.length === 0 ? ['none'] : paths)('%s: as a count of every pulse', (path) => {
    const read = readMidiFile(performanceBytes(path))
    if (!read.ok) throw new Error(read.error.what)
    const isDrums = path.startsWith('groove')
    // Lamps that go no faster than 100 Hz: half of the notes can be seen to flash.
    const lamps = GLASSHOUSE_LAMPS.map((id, slot) => ({
      id,
      output: 'wire',
      slot,
      supply: 'bench',
      watts: 10,
      lowHz: 8,
      highHz: slot === 0 ? 30 : 100,
    }))
    const rig = {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
      outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }],
      lamps,
    }
    const show = house('lowest-free', { kind: isDrums ? 'pads' : 'keys' }, { rig })
    const routed = routeTake(read.file, show)
    if (!routed.ok) throw new Error(routed.what)
    const { report } = render(show, 'tide', routed.take)

    const run = new GraphRun(show)
    for (const { at, player, message } of routed.take.events) run.graph.play(player, encode(message), at)
    run.graph.advance(Math.max(routed.take.endsAt, run.graph.now))
    // As a render does with what is still held.
    run.graph.silence('band', run.graph.now)
    const end = Math.round(report.seconds * SECOND)
    run.graph.advance(Math.max(end, run.graph.now))
    expect(run.litLamps()).toEqual([])
    const figure = figuresOf(show, run.of('frame'), end)
    expect(report.flash).toEqual(figure)
    expect(figure.perSecondMax).toBeGreaterThan(3)
    expect(figure.under60Seconds).toBeGreaterThanOrEqual(figure.bandSeconds)
    expect(figure.bandSeconds).toBeGreaterThan(1)
  })
})
