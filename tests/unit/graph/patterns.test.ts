import { describe, expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { Graph } from '../../../src/graph/graph.ts'
import type { TapEvent } from '../../../src/graph/tap.ts'
import type { Json, RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const PADS = { id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] }, gateMs: 100 }
const GRID = { id: 'grid', player: 'pads', lamps: ['fern', 'moss'], strategy: { kind: 'steps' } }
const FIVE = {
  id: 'five',
  gateMs: 50,
  rows: [
    { lamp: 'fern', steps: [60, 62, 64, 65, 67] },
    { lamp: 'moss', steps: [48, 0, 0, 0] },
  ],
}

function songOf(id: string, more: RawShow): RawShow {
  return { id, title: id, parts: [GRID], patterns: [FIVE], ...more }
}

function showOf(...songs: Json[]): Show {
  return validShow(glasshouse({ players: [PADS], songs }))
}

function watch(show: Show, song: string): { graph: Graph; events: TapEvent[] } {
  const graph = new Graph({ show, song })
  const events: TapEvent[] = []
  graph.tap$.subscribe((event) => events.push(event))
  graph.open()
  return { graph, events }
}

function hit(graph: Graph, at: number, key = 38): void {
  graph.play('pads', [0x99, key, 100], at)
  graph.advance(at)
}

/** Each change of a lamp: when, which, its key or dark. */
function lights(events: readonly TapEvent[]): string[] {
  return events.flatMap((event) =>
    event.kind === 'frame'
      ? event.changes.map(({ lamp, state }) => `${event.at} ${lamp} ${state.on ? state.key : 'dark'}`)
      : [],
  )
}

function steps(events: readonly TapEvent[]): unknown[] {
  return events.flatMap((event) => {
    if (event.kind !== 'step') return []
    const { at, part, pattern, rows, muted } = event
    return [[at, part, pattern, rows, muted]]
  })
}

test('hits light lamps by the song’s tuning, and the tap says where every row is', () => {
  const { graph, events } = watch(showOf(songOf('tide', {})), 'tide')
  hit(graph, 1_000)
  hit(graph, 201_000)
  graph.advance(1_000_000)
  expect(lights(events)).toEqual([
    '1000 fern 60',
    '1000 moss 48',
    '51000 fern dark',
    '51000 moss dark',
    '201000 fern 62',
    '251000 fern dark',
  ])
  const lit = events.flatMap((event) =>
    event.kind === 'frame' ? event.changes.flatMap(({ state }) => (state.on ? [state.hz] : [])) : [],
  )
  // Equal temperament: 440 x 2^((60 - 69) / 12) Hz.
  expect(lit[0]).toBeCloseTo(261.625565, 5)
  expect(steps(events)).toEqual([
    [1_000, 'grid', 'five', [0, 0], [false, false]],
    [201_000, 'grid', 'five', [1, 1], [false, false]],
  ])
})

describe('a song that begins', () => {
  const clocked = { ...FIVE, advance: 'clock', division: '1/4' }
  const part = { ...GRID, strategy: { kind: 'steps', starts: 'song' } }

  test('as the first: its clock starts when the graph does', () => {
    const show = showOf(songOf('tide', { parts: [part], patterns: [clocked], tempo: 60 }))
    const graph = new Graph({ show, song: 'tide', at: 7_000_000 })
    const events: TapEvent[] = []
    graph.tap$.subscribe((event) => events.push(event))
    graph.open()
    expect(graph.nextDue).toBe(7_000_000)
    graph.advance(8_600_000)
    expect(lights(events)).toEqual([
      '7000000 fern 60',
      '7000000 moss 48',
      '7500000 fern dark',
      '7500000 moss dark',
      '8000000 fern 62',
      '8500000 fern dark',
    ])
  })

  test('after another: its first step leaves with the moment that begins it, and the one before is silent', () => {
    const show = showOf(
      songOf('tide', { parts: [part], patterns: [clocked] }),
      songOf('ebb', { parts: [part], patterns: [{ ...clocked, rows: [{ lamp: 'moss', steps: [72] }] }] }),
    )
    const { graph, events } = watch(show, 'tide')
    graph.advance(600_000)
    events.length = 0
    graph.changeSong('ebb', 610_000)
    graph.advance(1_500_000)
    expect(lights(events)).toEqual([
      '610000 fern dark',
      '610000 moss 72',
      '860000 moss dark',
      '1110000 moss 72',
      '1360000 moss dark',
    ])
    expect(events.filter(({ kind, at }) => kind === 'frame' && at === 610_000)).toHaveLength(1)
  })

  test('a hit that lasts over the change is no hit in the new song', () => {
    const show = showOf(songOf('tide', {}), songOf('ebb', { enter: 'carry' }))
    const { graph, events } = watch(show, 'tide')
    hit(graph, 1_000)
    graph.changeSong('ebb', 20_000)
    hit(graph, 300_000)
    expect(steps(events)).toEqual([
      [1_000, 'grid', 'five', [0, 0], [false, false]],
      [300_000, 'grid', 'five', [0, 0], [false, false]],
    ])
  })

  test('dark-all stops what runs until the next hit', () => {
    const { graph, events } = watch(showOf(songOf('tide', { parts: [part], patterns: [clocked] })), 'tide')
    graph.advance(600_000)
    graph.darkAll(600_001)
    events.length = 0
    graph.advance(5_000_000)
    expect(lights(events)).toEqual([])
    hit(graph, 5_000_001)
    expect(lights(events)).toEqual(['5000001 fern 60', '5000001 moss 48'])
  })

  test('another tempo begins it anew, another name or an edited pattern does not', () => {
    const song = (more: RawShow): Show => showOf(songOf('tide', { patterns: [{ ...FIVE, ...more }] }))
    const { graph } = watch(song({}), 'tide')
    hit(graph, 1_000)
    expect(graph.revise(song({ name: 'Fivers' }), 2_000)).toBe(false)
    expect(graph.revise(song({ gateMs: 60 }), 3_000)).toBe(false)
    expect(
      graph.revise(showOf(songOf('tide', { patterns: [{ ...FIVE, gateMs: 60 }], tempo: 61 })), 4_000),
    ).toBe(true)
  })
})

test('a claim takes a pattern’s lamp: its strikes are missed, and the count goes on', () => {
  const keys = { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1] } }
  const lead = {
    id: 'lead',
    player: 'keys',
    lamps: ['fern'],
    strategy: { kind: 'unison' },
    claim: { when: 'playing', releaseMs: 0 },
  }
  const show = validShow(
    glasshouse({ players: [PADS, keys], songs: [songOf('tide', { parts: [GRID, lead] })] }),
  )
  const { graph, events } = watch(show, 'tide')
  hit(graph, 1_000)
  graph.play('keys', [0x90, 72, 100], 200_000)
  hit(graph, 300_000)
  graph.play('keys', [0x80, 72, 0], 400_000)
  hit(graph, 500_000)
  graph.advance(1_000_000)
  expect(lights(events).filter((line) => line.includes('fern'))).toEqual([
    '1000 fern 60',
    '51000 fern dark',
    '200000 fern 72',
    '400000 fern dark',
    '500000 fern 64',
    '550000 fern dark',
  ])
})

describe('a pattern that is edited while it plays', () => {
  const withRows = (...rows: RawShow[]): Show => showOf(songOf('tide', { patterns: [{ ...FIVE, rows }] }))
  const [fern = {}, moss = {}] = FIVE.rows as RawShow[]

  test('goes on from where it was: the edited step sounds in the next pass, and nothing begins anew', () => {
    const { graph, events } = watch(showOf(songOf('tide', {})), 'tide')
    hit(graph, 1_000)
    hit(graph, 201_000)
    expect(graph.revise(withRows({ ...fern, steps: [72, 62, 71, 65, 67] }, moss), 210_000)).toBe(false)
    expect(graph.lamps.map((lamp) => lamp.on)).toEqual([true, false, false, false])
    events.length = 0
    for (let at = 400_000; at <= 1_000_000; at += 200_000) hit(graph, at)
    graph.advance(2_000_000)
    expect(lights(events).filter((line) => line.includes('fern') && !line.includes('dark'))).toEqual([
      '400000 fern 71',
      '600000 fern 65',
      '800000 fern 67',
      '1000000 fern 72',
    ])
    expect(events.filter(({ kind }) => kind === 'song')).toEqual([])
  })

  test('a row made shorter than where it stands is counted round, and the other keeps its own count', () => {
    const { graph, events } = watch(showOf(songOf('tide', {})), 'tide')
    for (let at = 1_000; at <= 601_000; at += 200_000) hit(graph, at)
    expect(steps(events).at(-1)).toEqual([601_000, 'grid', 'five', [3, 3], [false, false]])
    graph.revise(withRows({ ...fern, steps: [60, 62] }, moss), 610_000)
    // 3 of two steps counted round: the second.
    expect(steps(events).at(-1)).toEqual([610_000, 'grid', 'five', [1, 3], [false, false]])
    hit(graph, 801_000)
    expect(steps(events).at(-1)).toEqual([801_000, 'grid', 'five', [0, 0], [false, false]])
  })

  test('a row that is taken away, muted or given another lamp is dark at once', () => {
    const edits: Show[] = [
      withRows(moss),
      withRows({ ...fern, muted: true }, moss),
      withRows({ ...fern, id: 'fern', lamp: 'moss' }, { ...moss, id: 'other', lamp: 'fern' }),
    ]
    for (const edited of edits) {
      const { graph, events } = watch(showOf(songOf('tide', {})), 'tide')
      hit(graph, 1_000)
      events.length = 0
      graph.revise(edited, 11_000)
      expect(lights(events)).toContain('11000 fern dark')
      graph.advance(1_000_000)
      expect(graph.lamps.some((lamp) => lamp.on)).toBe(false)
    }
  })

  test('what a pad has muted stays muted, unless it is that which is edited', () => {
    const pads = [{ key: 40, do: 'mute-row', row: 'fern' }]
    const song = (rows: RawShow[]): Show => showOf(songOf('tide', { patterns: [{ ...FIVE, pads, rows }] }))
    const { graph, events } = watch(song([fern, moss]), 'tide')
    hit(graph, 1_000, 40)
    graph.revise(song([{ ...fern, steps: [70] }, moss]), 2_000)
    expect(steps(events).at(-1)).toEqual([2_000, 'grid', 'five', [-1, -1], [true, false]])
    graph.revise(song([fern, { ...moss, muted: true }]), 3_000)
    expect(steps(events).at(-1)).toEqual([3_000, 'grid', 'five', [-1, -1], [true, true]])
    graph.revise(song([fern, moss]), 4_000)
    expect(steps(events).at(-1)).toEqual([4_000, 'grid', 'five', [-1, -1], [true, false]])
  })

  test('from hits to the clock: it goes on with the next division, and what went by is not made up for', () => {
    const clocked = showOf(
      songOf('tide', { patterns: [{ ...FIVE, advance: 'both', division: '1/4' }], tempo: 60 }),
    )
    const { graph, events } = watch(showOf(songOf('tide', { tempo: 60 })), 'tide')
    hit(graph, 0)
    graph.advance(10_500_000)
    graph.revise(clocked, 10_500_000)
    events.length = 0
    graph.advance(12_100_000)
    expect(steps(events).map((one) => (one as unknown[])[0])).toEqual([11_000_000, 12_000_000])
  })
})
