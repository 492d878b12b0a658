import { expect, test } from 'vitest'
import { GraphRun } from '../../support/graph-run.ts'
import type { Json, RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]
const SECOND = 1_000_000

const SONGS: Json = [
  {
    id: 'tide',
    title: 'Tide table',
    parts: [{ id: 'lead', player: 'keys', lamps: ['fern', 'moss'], strategy: { kind: 'lowest-free' } }],
  },
  {
    id: 'dew',
    title: 'Dew point',
    parts: [{ id: 'lead', player: 'keys', lamps: ['sedge'], strategy: { kind: 'unison' } }],
  },
]

interface RigEdit {
  readonly output?: RawShow
  readonly lamp?: RawShow
  readonly maxAmps?: number
  readonly supply?: 'refuse' | 'warn'
}

function run({ output = {}, lamp = {}, maxAmps = 100, supply = 'refuse' }: RigEdit = {}): GraphRun {
  const raw = glasshouse({ songs: SONGS, guards: { supply: { action: supply } } })
  const rig = raw.rig as { outputs: RawShow[]; lamps: RawShow[]; supplies: RawShow[] }
  rig.outputs = [{ id: 'wire', kind: 'serial', port: 'virtual', ...output } as RawShow]
  rig.lamps = rig.lamps.map((one) => ({ ...one, ...lamp }))
  rig.supplies = [{ id: 'bench', volts: 10, maxAmps, usable: 1 }]
  return new GraphRun(validShow(raw))
}

const said = (one: GraphRun): string[] =>
  one.of('finding').map(({ at, lamp, why }) => `${at} ${lamp}${why === undefined ? '' : `: ${why}`}`)

test('a lamp is lit at 440 Hz and a tenth for two seconds, and is dark again', () => {
  const one = run()
  one.graph.find('reed', 1000)
  expect(one.litLamps()).toEqual(['reed'])
  // 16 MHz / 36,364 (fast PWM formula, ATmega640/1280/2560 data sheet).
  expect(one.graph.lamps[2]).toMatchObject({ part: '', realHz: 16e6 / 36364, duty: 0.1, hz: 440 })
  one.graph.advance(2 * SECOND + 999)
  expect(one.litLamps()).toEqual(['reed'])
  one.graph.advance(2 * SECOND + 1000)
  expect(one.litLamps()).toEqual([])
  expect(said(one)).toEqual(['1000 reed', '2001000 null'])
  expect(one.graph.nextDue).toBe(Infinity)
})

test('a MIDI lamp gets a note with its duty, and its end', () => {
  const one = run({
    output: { kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp', dutyController: 74 },
  })
  one.events.length = 0
  one.graph.find('moss', 1000)
  one.graph.advance(3 * SECOND)
  expect(one.bytes()).toEqual([
    // Key 69, bend in the centre, a tenth of 127.
    '1000 wire e10040',
    '1000 wire b14a0d',
    '1000 wire 914540',
    '2001000 wire 814540',
  ])
})

test('a lamp that is one fixed key is that key', () => {
  const one = run({ output: { kind: 'midi', port: 'Lamp box', layout: 'note-per-lamp', firstNote: 40 } })
  one.events.length = 0
  one.graph.find('moss', 1000)
  one.graph.find(null, 2000)
  expect(one.bytes()).toEqual(['1000 wire 902940', '2000 wire 802940'])
})

test.each([
  [{ lowHz: 20, highHz: 300 }, 220],
  [{ lowHz: 1000, highHz: 4000 }, 1760],
  // 55 Hz would flicker: as fast as the lamp goes.
  [{ lowHz: 20, highHz: 100 }, 100],
  // No octave of 440 Hz there.
  [{ lowHz: 300, highHz: 400 }, 400],
])('in a range of %o it flashes at %d Hz', (lamp, hz) => {
  const one = run({ lamp })
  one.graph.find('fern', 1000)
  expect(one.graph.lamps[0]).toMatchObject({ hz })
})

test.each([
  [{ minDuty: 0.02, maxDuty: 0.05 }, 0.05],
  [{ minDuty: 0.3, maxDuty: 0.5 }, 0.3],
])('of duties %o it takes %d', (lamp, duty) => {
  const one = run({ lamp })
  one.graph.find('fern', 1000)
  expect(one.graph.lamps[0]).toMatchObject({ duty })
})

test('a lamp that could only flicker, one that is lit, and one that is not there are refused with the reason', () => {
  const slow = run({ lamp: { lowHz: 20, highHz: 50 } })
  slow.graph.find('fern', 1000)
  expect(slow.litLamps()).toEqual([])
  const one = run()
  one.graph.play('keys', on(60), 1000)
  one.graph.find('fern', 2000)
  one.graph.find('nettle', 3000)
  expect([...said(slow), ...said(one)]).toEqual([
    '1000 null: it only flashes so slowly that it would flicker',
    '2000 null: lit by part lead',
    '3000 null: the rig has no lamp "nettle"',
  ])
  expect(one.litLamps()).toEqual(['fern'])
})

test('one at a time: the next ends the one before, also where it is refused', () => {
  const one = run()
  one.graph.find('reed', 1000)
  one.graph.find('sedge', 2000)
  expect(one.litLamps()).toEqual(['sedge'])
  one.graph.play('keys', on(60), 3000)
  one.graph.find('fern', 4000)
  expect(one.litLamps()).toEqual(['fern'])
  expect(said(one)).toEqual([
    '1000 reed',
    '2000 null',
    '2000 sedge',
    '4000 null',
    '4000 null: lit by part lead',
  ])
})

test('a note that wants the lamp gets it, as a strike, and keeps it when the time is over', () => {
  const one = run({ output: { kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' } })
  one.graph.find('fern', 1000)
  one.events.length = 0
  one.graph.play('keys', on(72), 5000)
  one.graph.advance(3 * SECOND)
  expect(one.litLamps()).toEqual(['fern'])
  expect(one.bytes()).toEqual(['5000 wire 804540', '5000 wire 904864'])
  expect(said(one)).toEqual(['5000 null: lit by part lead'])
  one.graph.play('keys', off(72), 4 * SECOND)
  one.graph.advance(4 * SECOND)
  expect(one.litLamps()).toEqual([])
})

test.each(['refuse', 'warn'] as const)('within the supply, whose guard says %s', (supply) => {
  // Two lamps of 10 W at 10 V.
  const one = run({ maxAmps: 2, supply })
  one.graph.play('keys', on(60), 1000)
  one.graph.play('keys', on(62), 2000)
  one.graph.find('reed', 3000)
  expect(one.litLamps()).toEqual(['fern', 'moss'])
  one.graph.play('keys', off(62), 4000)
  one.graph.find('reed', 5000)
  expect(one.litLamps()).toEqual(['fern', 'reed'])
  // A note goes first: the power is its own.
  one.graph.play('keys', on(64), 6000)
  one.graph.advance(6000)
  expect(one.litLamps()).toEqual(['fern', 'moss'])
  expect(said(one)).toEqual([
    '3000 null: the supply bench has no room',
    '5000 reed',
    '6000 null: a note needs its power',
  ])
  expect([...one.of('refused'), ...one.of('exceeded')]).toEqual([])
})

test('a note that would be refused all the same does not put it out', () => {
  const one = run({ maxAmps: 1, lamp: { watts: 20 } })
  one.graph.find('reed', 1000)
  expect(said(one)).toEqual(['1000 null: the supply bench has no room'])
  const raw = glasshouse({ songs: SONGS })
  const rig = raw.rig as { lamps: RawShow[]; supplies: RawShow[] }
  rig.supplies = [
    { id: 'bench', volts: 10, maxAmps: 0.5, usable: 1 },
    { id: 'shelf', volts: 10, maxAmps: 1, usable: 1 },
  ]
  rig.lamps = rig.lamps.map((lamp) => (lamp.id === 'reed' ? { ...lamp, supply: 'shelf' } : lamp))
  const two = new GraphRun(validShow(raw))
  two.graph.find('reed', 1000)
  two.graph.play('keys', on(60), 2000)
  two.graph.advance(2000)
  expect(two.litLamps()).toEqual(['reed'])
  expect(two.of('refused').length).toBeGreaterThan(0)
})

test('dark-all, another song, an edit, a box that answers and being asked end it', () => {
  const endings: [string, (one: GraphRun) => void][] = [
    ['2000 null: all dark', (one) => one.graph.darkAll(2000)],
    ['2000 null: a song begins', (one) => one.graph.changeSong('dew', 2000)],
    [
      '2000 null: the show was edited',
      (one) => one.graph.revise(validShow(glasshouse({ songs: SONGS, title: 'x', rig: rigOf() })), 2000),
    ],
    [
      '2000 null: a lamp box has just answered',
      (one) => one.graph.setTimer('wire', { clockHz: 8e6, prescalers: [1, 8], bits: 16 }, 2000),
    ],
    ['2000 null', (one) => one.graph.find(null, 2000)],
  ]
  for (const [words, end] of endings) {
    const one = new GraphRun(validShow(glasshouse({ songs: SONGS, rig: rigOf() })))
    one.graph.find('reed', 1000)
    end(one)
    expect(one.litLamps()).toEqual([])
    expect(said(one)).toEqual(['1000 reed', words])
    one.graph.advance(3 * SECOND)
    expect(said(one)).toHaveLength(2)
    expect(one.litLamps()).toEqual([])
  }
})

function rigOf(): Json {
  return glasshouse().rig as Json
}

test('a graph put down meanwhile ends it when it is taken up', () => {
  const one = run()
  one.graph.find('reed', 1000)
  one.putDown()
  expect(one.litLamps()).toEqual(['reed'])
  one.graph.advance(3 * SECOND)
  expect(one.litLamps()).toEqual([])
  expect(said(one)).toEqual(['1000 reed', '2001000 null'])
})

test('a graph that nobody asks knows nothing of it', () => {
  const one = run()
  one.graph.play('keys', on(60), 1000)
  one.graph.advance(1000)
  expect(Object.keys(one.graph.save().cells)).not.toContain('find')
})
