import { describe, expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import type { Json, RawShow } from '../../support/shows.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const SECOND = 1_000_000
const ALL: Json = [...GLASSHOUSE_LAMPS]
const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]

interface Song {
  readonly flash?: RawShow
  readonly strategy?: RawShow
  readonly gapMs?: number
  readonly enter?: string
  readonly maxAmps?: number
  readonly midi?: boolean
}

/** Two songs with one part each; the second warns. Four lamps of 10 W at 12 V. */
function show({ flash = { action: 'warn' }, strategy = { kind: 'unison' }, ...more }: Song): Show {
  const { gapMs = 0, enter = 'carry', maxAmps = 100, midi = false } = more
  const part = { player: 'keys', lamps: ALL, strategy, gapMs }
  const output = midi
    ? { id: 'din', kind: 'midi', port: 'din', layout: 'channel-per-lamp' }
    : { id: 'wire', kind: 'serial', port: 'virtual' }
  return validShow(
    glasshouse({
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps, usable: 1 }],
        outputs: [output],
        lamps: GLASSHOUSE_LAMPS.map((id, slot) => ({
          id,
          output: output.id,
          slot,
          supply: 'bench',
          watts: 10,
        })),
      },
      guards: { flash },
      songs: [
        { id: 'tide', title: 'Tide table', enter, parts: [{ id: 'lead', ...part }] },
        { id: 'fog', title: 'Fog', enter, flash: { action: 'warn' }, parts: [{ id: 'low', ...part }] },
      ],
    }),
  )
}

/** A key pressed ten times a second, held for half of that. */
function gate(run: GraphRun, times: number, key = 69): void {
  const from = run.graph.now
  for (let n = 0; n < times; n++) {
    run.graph.play('keys', on(key), from + n * 100_000)
    run.graph.play('keys', off(key), from + n * 100_000 + 50_000)
  }
  run.graph.advance(from + times * 100_000)
}

/** Times in ms at which all lamps went dark, and at which one lit from that. */
function field(run: GraphRun): string[] {
  const lit = new Set<string>()
  const told: string[] = []
  for (const { at, changes } of run.of('frame')) {
    const before = lit.size
    for (const { lamp, state } of changes)
      if (state.on) lit.add(lamp)
      else lit.delete(lamp)
    if (before > 0 && lit.size === 0) told.push(`${at / 1000} dark`)
    if (before === 0 && lit.size > 0) told.push(`${at / 1000} lit`)
  }
  return told
}

describe('a unison over four lamps, gated ten times a second', () => {
  test('warn: ten flashes in the second', () => {
    const run = new GraphRun(show({}))
    gate(run, 10)
    expect(field(run)).toHaveLength(20)
  })

  test('limit: six changes in any second, and every note sounds', () => {
    const run = new GraphRun(show({ flash: { action: 'limit', changes: 6 } }))
    gate(run, 20)
    run.graph.advance(10 * SECOND)
    expect(field(run)).toEqual([
      '0 lit',
      '50 dark',
      '100 lit',
      '150 dark',
      '200 lit',
      '1050 dark',
      '1100 lit',
      '1150 dark',
      '1200 lit',
      '1250 dark',
      '1300 lit',
      // As soon as four of the last second are left.
      '2110 dark',
    ])
    const struck = run
      .of('frame')
      .filter(({ changes }) => changes.some(({ state }) => state.on && state.strike))
    expect(struck).toHaveLength(20)
    expect(run.of('tied').length).toBeGreaterThan(20)
  })

  test('glow: dark only when it has been still for so long, all lamps in one moment', () => {
    const run = new GraphRun(show({ flash: { action: 'glow', seconds: 1 } }))
    gate(run, 20)
    run.graph.advance(10 * SECOND)
    expect(field(run)).toEqual(['0 lit', '2950 dark'])
    const states = run.of('frame').flatMap(({ changes }) => changes.map(({ state }) => state))
    const glows = states.filter((state) => state.on && state.glow)
    expect(glows).toHaveLength(80)
    expect(glows[0]).toMatchObject({ realHz: 25_000, duty: 0.5, note: 0 })
    expect(run.of('glowed')).toHaveLength(80)
  })

  test('glow over MIDI, whose keys are all heard: the lamps go dark as they would', () => {
    const run = new GraphRun(show({ flash: { action: 'glow', seconds: 1 }, midi: true }))
    gate(run, 10)
    expect(field(run)).toHaveLength(20)
  })
})

test('a gap before a lamp that is struck again is tied, or glows, as any other darkness', () => {
  const gapped = (flash: RawShow): string[] => {
    const run = new GraphRun(show({ flash, gapMs: 20, strategy: { kind: 'unison', retrigger: true } }))
    for (let n = 0; n < 10; n++) run.graph.play('keys', on(60 + n), n * 50_000)
    run.graph.advance(480_000)
    return field(run)
  }
  expect(gapped({ action: 'warn' })).toHaveLength(19)
  expect(gapped({ action: 'limit', changes: 4 })).toEqual(['0 lit', '50 dark', '70 lit'])
  expect(gapped({ action: 'glow' })).toEqual(['0 lit'])
})

describe('glow and the supply', () => {
  const chased = { flash: { action: 'glow', seconds: 9 }, strategy: { kind: 'rotate' } } as const

  test('a lamp that glows goes dark for a note that needs its power, the one that has longest first; no note is refused', () => {
    // 2 A of 0.833 A each: two lamps.
    const run = new GraphRun(show({ ...chased, maxAmps: 2 }))
    gate(run, 4)
    const lit = run.graph.lamps.map((lamp) => (lamp.on ? (lamp.glow ? 'o' : '*') : '.'))
    expect(lit.join('')).toBe('..oo')
    expect(run.of('refused')).toEqual([])
    expect(run.of('shed')).toEqual([])
  })

  test('struck as the one before it ends, the note has its power', () => {
    // One lamp.
    const run = new GraphRun(show({ ...chased, maxAmps: 1 }))
    run.graph.play('keys', on(60), 0)
    run.graph.play('keys', off(60), 100_000)
    run.graph.play('keys', on(64), 100_000)
    run.graph.advance(100_000)
    expect(run.graph.lamps.map((lamp) => (lamp.on ? lamp.key : 0))).toEqual([0, 64, 0, 0])
    expect(run.of('refused')).toEqual([])
  })
})

test('limit and a supply for one lamp: a tied lamp keeps its power, so the next note is refused, and told', () => {
  const flash = { action: 'limit', changes: 2 }
  const run = new GraphRun(show({ flash, strategy: { kind: 'rotate' }, maxAmps: 1 }))
  gate(run, 3)
  expect(field(run)).toEqual(['0 lit'])
  expect(run.of('refused')[0]).toMatchObject({ at: 100_000, reason: 'supply' })
})

describe('from one song to the next', () => {
  test('each has its own guard: what was tied or glowed goes dark with the song', () => {
    for (const flash of [{ action: 'limit', changes: 2 }, { action: 'glow' }] as const) {
      const run = new GraphRun(show({ flash }))
      gate(run, 1)
      expect(run.litLamps()).toHaveLength(4)
      run.graph.changeSong('fog', 200_000)
      expect(run.litLamps()).toEqual([])
      gate(run, 5)
      expect(
        run
          .of('tied')
          .concat(run.of('glowed') as never)
          .filter(({ at }) => at > 100_000),
      ).toEqual([])
    }
  })

  test('a low note that is carried to a song that folds moves up with it', () => {
    const songs = show({ flash: { action: 'fold' } })
    const run = new GraphRun(songs)
    run.graph.changeSong('fog', 0)
    run.graph.play('keys', on(27), 10_000)
    run.graph.advance(20_000)
    const hz = (): number[] => run.graph.lamps.flatMap((lamp) => (lamp.on ? [Math.round(lamp.realHz)] : []))
    expect(hz()).toEqual([39, 39, 39, 39])
    run.graph.changeSong('tide', 50_000)
    expect(hz()).toEqual([78, 78, 78, 78])
    expect(run.of('folded')).toHaveLength(4)
    expect(run.of('folded')[0]).toMatchObject({ part: 'lead', lamp: 'fern' })
  })
})

test('a guard that is edited while its song plays acts at once, and the song goes on', () => {
  const run = new GraphRun(show({}))
  run.graph.play('keys', on(27), 0)
  run.graph.advance(10_000)
  expect(run.graph.revise(show({ flash: { action: 'fold' } }), 20_000)).toBe(false)
  expect(run.graph.lamps.map((lamp) => (lamp.on ? Math.round(lamp.realHz) : 0))).toEqual([78, 78, 78, 78])
  expect(run.graph.revise(show({ flash: { action: 'limit', changes: 2 } }), 30_000)).toBe(false)
  run.graph.play('keys', off(27), 40_000)
  run.graph.advance(50_000)
  expect(run.litLamps()).toHaveLength(4)
  expect(run.graph.revise(show({ flash: { action: 'off', since: '2026-11-25' } }), 60_000)).toBe(false)
  expect(run.litLamps()).toEqual([])
})

test.each(['limit', 'glow'])('dark-all is held up by no guard: %s', (action) => {
  const run = new GraphRun(show({ flash: { action } }))
  gate(run, 5)
  run.graph.play('keys', on(60), run.graph.now)
  run.graph.darkAll(run.graph.now + 1000)
  expect(run.litLamps()).toEqual([])
  run.graph.advance(run.graph.now + 10 * SECOND)
  expect(run.litLamps()).toEqual([])
})

test('a lamp box with another timer than the show says: lamps glow by that', () => {
  const run = new GraphRun(show({ flash: { action: 'glow' } }))
  run.graph.setTimer('wire', { clockHz: 8_000_000, prescalers: [1, 8], bits: 16 }, 0)
  gate(run, 1)
  const [fern] = run.graph.lamps
  expect(fern).toMatchObject({ glow: true, realHz: 25_000, drive: { prescaler: 1, top: 319 } })
})
