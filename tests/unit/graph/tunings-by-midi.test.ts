import { expect, test } from 'vitest'
import { centsBetween, midiKeyToHz } from '../../../src/domain/pitch.ts'
import type { MtsForm } from '../../../src/domain/rig.ts'
import { encodeMts } from '../../../src/midi/mts-encode.ts'
import type { MtsMessage } from '../../../src/midi/mts-message.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { MidiEar } from '../../support/midi-ear.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const TUNINGS = [
  { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 },
  { id: 'nineteen', kind: 'equal', steps: 19, periodCents: 1200, refNote: 69, refHz: 440 },
  { id: 'shore', kind: 'received', player: 'keys', program: 3, base: 'nineteen' },
]
const song = (id: string, tuning: string): RawShow => ({
  id,
  title: id,
  tuning,
  parts: [{ id: 'lead', player: 'keys', lamps: ['fern', 'moss'], strategy: { kind: 'lowest-free' } }],
})

function show(more: { mts?: RawShow; songs?: RawShow[]; tunings?: RawShow[] } = {}) {
  const { mts, songs = [song('tide', 'shore'), song('ebb', 'even')], tunings = TUNINGS } = more
  const rig = {
    supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
    outputs: [
      { id: 'wire', kind: 'serial', port: 'virtual' },
      { id: 'din', kind: 'midi', port: 'Box', layout: 'channel-per-lamp', ...(mts ? { mts } : {}) },
    ],
    lamps: [
      { id: 'fern', output: 'wire', slot: 0, supply: 'bench', watts: 10 },
      { id: 'moss', output: 'din', slot: 0, supply: 'bench', watts: 10 },
    ],
  }
  return validShow(glasshouse({ rig, songs, tunings } as never))
}

const sysex = (message: MtsMessage): number[] => [0xf0, ...encodeMts(message), 0xf7]
const keyTo = (key: number, semitones: number, program = 3, realTime = true): number[] =>
  sysex({
    kind: 'keys',
    device: 1,
    realTime,
    ...(realTime ? {} : { bank: 0 }),
    program,
    changes: [{ key, word: semitones * 16384 }],
  })
const lit = (run: GraphRun) => run.graph.lamps.map((lamp) => (lamp.on ? lamp.hz : null))

test('a tuning that is received: as its base, until the instrument says otherwise', () => {
  const run = new GraphRun(show())
  run.graph.play('keys', [0x90, 70, 90], 1000)
  run.graph.advance(1000)
  expect(lit(run)[0]).toBeCloseTo(440 * 2 ** (1 / 19), 9)
  run.graph.play('keys', keyTo(70, 70.5), 2000)
  run.graph.advance(2000)
  expect(lit(run)[0]).toBeCloseTo(midiKeyToHz(70.5), 9)
})

test('in one moment it counts from where it stands: a note before it is struck as it was, one after it anew', () => {
  const run = new GraphRun(show())
  run.graph.play(
    'keys',
    [0x90, 70, 90, ...keyTo(70, 72, 3, false), ...keyTo(71, 60, 3, false), 0x90, 71, 90],
    1000,
  )
  run.graph.advance(1000)
  const [first, second] = lit(run)
  expect(first).toBeCloseTo(440 * 2 ** (1 / 19), 9)
  expect(second).toBeCloseTo(midiKeyToHz(60), 9)
  run.graph.play('keys', [0x80, 70, 64, 0x90, 70, 90], 2000)
  run.graph.advance(2000)
  expect(lit(run)[0]).toBeCloseTo(midiKeyToHz(72), 9)
})

test('it holds over songs, and the song that comes back is in it', () => {
  const run = new GraphRun(show())
  run.graph.prepare('ebb')
  run.graph.changeSong('ebb', 500)
  run.graph.prepare('tide')
  run.graph.play('keys', [...keyTo(70, 71), 0x90, 70, 90], 1000)
  run.graph.advance(1000)
  expect(lit(run)[0]).toBeCloseTo(midiKeyToHz(70), 9)
  run.graph.play('keys', [0x80, 70, 64], 2000)
  run.graph.changeSong('tide', 3000)
  run.graph.play('keys', [0x90, 70, 90], 4000)
  run.graph.advance(4000)
  expect(lit(run)[0]).toBeCloseTo(midiKeyToHz(71), 9)
})

test('a program that the instrument chooses by registered parameter 3', () => {
  const run = new GraphRun(show())
  run.graph.play('keys', keyTo(70, 64, 8), 1000)
  run.graph.play('keys', [0xb0, 101, 0, 100, 3, 6, 8, 0x90, 70, 90], 2000)
  run.graph.advance(2000)
  expect(lit(run)[0]).toBeCloseTo(midiKeyToHz(64), 9)
})

test('one that is no good is said and changes nothing', () => {
  const run = new GraphRun(show())
  run.graph.play('keys', [...keyTo(70, 71).slice(0, -3), 0xf7, 0x90, 70, 90], 1000)
  run.graph.advance(1000)
  expect(lit(run)[0]).toBeCloseTo(440 * 2 ** (1 / 19), 9)
  expect(run.of('diagnostic').map(({ diagnostic }) => diagnostic)).toEqual([
    {
      level: 'warning',
      source: 'player keys',
      code: 'tuning-message',
      message: 'a message of the MIDI Tuning Standard was passed over: 1 changes are 4 bytes, and 2 came',
    },
  ])
})

test('an edit of the base is heard with the next note of a song that plays on, but for keys the instrument has told', () => {
  const run = new GraphRun(show())
  run.graph.play('keys', keyTo(70, 71), 1000)
  const [even, nineteen, shore] = TUNINGS
  const edited = show({ tunings: [even, { ...nineteen, refHz: 432 }, shore] as never })
  expect(run.graph.revise(edited, 2000)).toBe(false)
  run.graph.play('keys', [0x90, 69, 90, 0x90, 70, 90], 3000)
  run.graph.advance(3000)
  expect(lit(run)).toEqual([expect.closeTo(432, 9), expect.closeTo(midiKeyToHz(71), 9)])
})

// Out.

/** "t form bytes" of what tells a tuning. */
const told = (run: GraphRun): string[] =>
  run.of('bytes').flatMap(({ at, output, bytes }) => {
    if (bytes[0] !== 0xf0 || output !== 'din') return []
    return [`${at} ${Buffer.from(bytes.slice(1, 6)).toString('hex')} ${bytes.length}`]
  })

test('a listener is told the song’s tuning when its port opens and when it is open again, after the lamps were greeted', () => {
  const run = new GraphRun(
    show({ mts: { form: 'bulk', program: 4, device: 2 }, songs: [song('ebb', 'nineteen')] }),
  )
  expect(told(run)).toEqual(['0 7e02080104 408'])
  expect(run.of('bytes').at(-1)?.bytes[0]).toBe(0xf0)
  run.graph.advance(5_000_000)
  run.graph.reopen('din', 6_000_000)
  expect(told(run)).toEqual(['0 7e02080104 408', '6000000 7e02080104 408'])
  const name = run
    .of('bytes')
    .find(({ bytes }) => bytes[0] === 0xf0)
    ?.bytes.slice(6, 22)
  expect(Buffer.from(name ?? []).toString('latin1')).toBe('nineteen        ')
})

test('a song begins: its first frame goes first, and a tuning that is the same is not told again', () => {
  const songs = [song('ebb', 'even'), song('tide', 'nineteen'), song('neap', 'nineteen')]
  const run = new GraphRun(
    show({ mts: { form: 'bulk' }, songs: songs.map((one) => ({ ...one, enter: 'carry' })) }),
  )
  run.graph.play('keys', [0x90, 60, 90, 0x90, 64, 90], 1_000_000)
  run.graph.changeSong('tide', 2_000_000)
  const then = run.of('bytes').filter(({ at, output }) => at === 2_000_000 && output === 'din')
  expect(then.map(({ bytes }) => bytes[0])).toEqual([0xe0, 0xf0])
  run.graph.changeSong('neap', 3_000_000)
  run.graph.advance(4_000_000)
  expect(told(run).map((one) => one.split(' ')[0])).toEqual(['0', '2000000'])
})

test('a live change, what is received, and an edit are told as well', () => {
  const run = new GraphRun(show({ mts: { form: 'bulk' } }))
  run.graph.tune('even', false, 1_000_000)
  run.graph.tune(null, true, 2_000_000)
  run.graph.play('keys', keyTo(70, 71), 3_000_000)
  run.graph.advance(3_500_000)
  const [even, nineteen, shore] = TUNINGS
  run.graph.revise(
    show({ mts: { form: 'bulk' }, tunings: [even, { ...nineteen, refHz: 432 }, shore] as never }),
    4e6,
  )
  run.graph.darkAll(5_000_000)
  run.graph.advance(6_000_000)
  expect(told(run).map((one) => one.split(' ')[0])).toEqual(['0', '1000000', '2000000', '3000000', '4000000'])
})

test('by keys: piece by piece, only those that have changed, and lamps wait for one at most', () => {
  const run = new GraphRun(show({ mts: { form: 'keys' }, songs: [song('tide', 'shore')] }))
  run.graph.advance(1_000_000)
  expect(told(run)).toHaveLength(16)
  expect(told(run)[1]).toBe('25600 7f7f080200 40')
  run.graph.play('keys', keyTo(70, 71), 2_000_000)
  run.graph.advance(3_000_000)
  expect(told(run).slice(16)).toEqual(['2000000 7f7f080200 40'])
  const ear = new MidiEar()
  for (const { bytes, output } of run.of('bytes')) if (output === 'din') ear.take(bytes)
  expect(centsBetween(ear.tunedHz(0, 70), midiKeyToHz(71))).toBeCloseTo(0, 9)
  expect(Math.abs(centsBetween(ear.tunedHz(0, 71), 440 * 2 ** (2 / 19)))).toBeLessThanOrEqual(0.00306)
})

test.each<MtsForm>(['octave', 'octave-fine'])(
  '"%s" tells what it can, and says once what it cannot',
  (form) => {
    const low = { ...TUNINGS[0], id: 'low', refHz: 432 }
    const songs = [song('ebb', 'low'), song('tide', 'nineteen')]
    const run = new GraphRun(show({ mts: { form }, songs, tunings: [low, ...TUNINGS] as never }))
    const ear = new MidiEar()
    for (const { bytes, output } of run.of('bytes')) if (output === 'din') ear.take(bytes)
    const half = form === 'octave' ? 0.5 : 50 / 8192
    for (const key of [0, 60, 127])
      expect(Math.abs(centsBetween(ear.tunedHz(0, key), midiKeyToHz(key) * (432 / 440)))).toBeLessThanOrEqual(
        half,
      )
    run.graph.changeSong('tide', 1_000_000)
    run.graph.darkAll(2_000_000)
    expect(told(run)).toHaveLength(1)
    const said = run.of('diagnostic').map(({ diagnostic }) => diagnostic)
    expect(said).toHaveLength(1)
    expect(said[0]).toMatchObject({ source: 'output din', code: 'tuning-untold' })
    expect(said[0]?.message).toMatch(/^tuning nineteen is not told to it: key \d+ lies/)
  },
)

test('an output without "mts" is told nothing, whatever happens', () => {
  const run = new GraphRun(show())
  run.graph.changeSong('ebb', 1000)
  run.graph.reopen('din', 2000)
  run.graph.advance(1_000_000)
  expect(told(run)).toEqual([])
})
