import { expect, test } from 'vitest'
import type { Chord } from '../../../src/offline/chord.ts'
import { chord } from '../../../src/offline/chord.ts'
import { partialBeats, simpleRatioNear } from '../../../src/offline/partial-beats.ts'
import { lead, quietHouse, rig, tide } from '../../support/checked-show.ts'
import type { Json, RawShow } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const EVEN = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
const JUST = {
  id: 'just',
  kind: 'scale',
  pitches: ['16/15', '9/8', '6/5', '5/4', '4/3', '45/32', '3/2', '8/5', '5/3', '9/5', '15/8', '2/1'],
  refNote: 60,
  refHz: 264,
}

interface Given {
  readonly keys: number[]
  readonly tuning?: string
  readonly part?: RawShow
  readonly song?: RawShow
  readonly lamps?: RawShow[]
  readonly outputs?: Json[]
  readonly only?: string[]
}

function chordOf({ keys, tuning = 'even', part = {}, song = {}, lamps = [], outputs, only }: Given): Chord {
  const all = rig({}, outputs)
  const own = (all['lamps'] as RawShow[]).map((lamp, place) => ({ ...lamp, ...lamps[place] }))
  const tunings = [EVEN, JUST, { id: 'sent', kind: 'received', player: 'keys', base: 'just' }]
  const show = quietHouse({
    rig: { ...all, lamps: own },
    tunings,
    songs: [tide([lead({ notes: [0, 127], ...part })], { tuning, ...song })],
  })
  const found = chord(validShow(show), 'tide', 'lead', keys, only)
  if (!found) throw new Error('no such part')
  return found
}

const ticks = (hz: number) => 16e6 / Math.round(16e6 / hz)
const cents = (upper: number, lower: number) => 1200 * Math.log2(upper / lower)

test('an equal tempered triad: intervals wanted and made, and the beats of its partials', () => {
  const { tones, intervals, beats, refused, sounds, tuning, base } = chordOf({ keys: [67, 60, 64] })
  expect([tuning, base, sounds, refused, beats]).toEqual(['even', undefined, 'together', [], []])
  expect(tones.map(({ key, lamps }) => [key, lamps.length])).toEqual([
    [60, 4],
    [64, 4],
    [67, 4],
  ])
  const [third, fifth, minor] = intervals
  expect(intervals.map(({ lower, upper }) => [lower.key, upper.key])).toEqual([
    [60, 64],
    [60, 67],
    [64, 67],
  ])
  expect(third?.wantedCents).toBeCloseTo(400, 9)
  // ISO 16 and the ATmega640/1280/2560 data sheet, f = clock / (prescaler x (1 + TOP)).
  const [c, e] = [ticks(440 * 2 ** (-9 / 12)), ticks(440 * 2 ** (-5 / 12))]
  expect(third?.madeCents).toBeCloseTo(cents(e, c), 9)
  expect(third?.errorCents).toBeCloseTo(cents(e, c) - 400, 9)
  expect(third?.trimCents).toBeCloseTo(0, 9)
  // Beats of the equal tempered C4-E4 and C4-G4, tuners' tables: 10.38 and 0.89 a second (from memory).
  expect(third?.partials).toMatchObject({ ratio: [5, 4], wantedBeats: expect.closeTo(10.38, 2) })
  expect(fifth?.partials).toMatchObject({ ratio: [3, 2], wantedBeats: expect.closeTo(0.89, 2) })
  expect(third?.partials?.beats).toBeCloseTo(4 * e - 5 * c, 9)
  expect(minor?.partials?.ratio).toEqual([6, 5])
})

test('a just fifth and third are wanted without beats, and made with a few', () => {
  const { intervals } = chordOf({ keys: [60, 64, 67], tuning: 'just' })
  const fifth = intervals.find(({ upper }) => upper.key === 67)
  // 3/2 = 701.955001 and 5/4 = 386.313714 cents, by the formula.
  expect(fifth?.wantedCents).toBeCloseTo(701.955001, 6)
  expect(fifth?.wantedRatio).toBeCloseTo(1.5, 12)
  expect(intervals[0]?.wantedCents).toBeCloseTo(386.313714, 6)
  expect(fifth?.partials?.wantedBeats).toBeCloseTo(0, 9)
  // 264 and 396 Hz: 60606 and 40404 ticks at 16 MHz.
  expect(fifth?.partials?.beats).toBeCloseTo(Math.abs((2 * 16e6) / 40404 - (3 * 16e6) / 60606), 9)
})

test('a received tuning is told by its base', () => {
  expect(chordOf({ keys: [60], tuning: 'sent' })).toMatchObject({ tuning: 'sent', base: 'just' })
  expect(chordOf({ keys: [60], part: { tuning: 'just' } })).toMatchObject({ tuning: 'just' })
})

test('octaves that are moved: the interval is of what sounds', () => {
  // Moss goes up to 700 Hz: A5 sounds an octave lower there, a sixth under F#5 instead of a third above it.
  const { intervals, tones } = chordOf({
    keys: [78, 81],
    lamps: [{}, { highHz: 700 }],
    only: ['fern', 'moss'],
    part: { lamps: ['fern', 'moss'] },
  })
  expect(tones.filter(({ octaves }) => octaves !== 0)).toMatchObject([
    { key: 78, lamps: ['moss'], octaves: -1 },
    { key: 81, lamps: ['moss'], octaves: -1 },
  ])
  const sixth = intervals.find(({ lower, upper }) => lower.key === 81 && upper.key === 78)
  expect(sixth).toMatchObject({ lower: { lamps: ['moss'] }, upper: { lamps: ['fern'] } })
  expect(sixth?.wantedCents).toBeCloseTo(900, 9)
  // The two keys on one lamp are never heard together.
  expect(intervals.every(({ lower, upper }) => lower.lamps[0] !== upper.lamps[0])).toBe(true)
})

test('two lamps that should agree beat by their trims, their timers and their bends', () => {
  const slow = {
    id: 'slow',
    kind: 'serial',
    port: 'other',
    timer: { clockHz: 250_000, prescalers: [1], bits: 16 },
  }
  const din = { id: 'din', kind: 'midi', port: 'Box', layout: 'channel-per-lamp', bendBits: 7 }
  const { beats, tones } = chordOf({
    keys: [93],
    outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }, slow, din],
    lamps: [{}, { trimCents: 2 }, { output: 'slow', slot: 0 }, { output: 'din', slot: 0, trimCents: 2 }],
    part: { strategy: { kind: 'unison' } },
  })
  expect(tones).toHaveLength(4)
  const real = {
    fern: ticks(1760),
    moss: ticks(1760 * 2 ** (2 / 1200)),
    reed: 250e3 / 142,
    // MIDI 1.0, of a bend of 2 semitones the top 7 bits: steps of 3.125 cents, the nearest to +2 is one.
    sedge: 1760 * 2 ** (3.125 / 1200),
  }
  const wanted = [
    ['fern', 'moss'],
    ['fern', 'reed'],
    ['fern', 'sedge'],
    ['moss', 'reed'],
    ['moss', 'sedge'],
    ['reed', 'sedge'],
  ] as const
  expect(beats.map(({ one, other }) => [one.lamps[0], other.lamps[0]])).toEqual(wanted)
  beats.forEach(({ hz }, place) => {
    const [a, b] = wanted[place]!
    expect(hz).toBeCloseTo(Math.abs(real[a] - real[b]), 9)
  })
})

test('trims are told apart from rounding', () => {
  const { intervals } = chordOf({
    keys: [60, 67],
    lamps: [{}, { trimCents: 5 }, { trimCents: 5 }, { trimCents: 5 }],
  })
  const up = intervals.find(({ lower, upper }) => lower.lamps[0] === 'fern' && upper.key === 67)
  expect(up?.trimCents).toBeCloseTo(5, 9)
  expect(Math.abs((up?.errorCents ?? 9) - 5)).toBeLessThan(0.05)
})

test('one voice: keys follow each other on the same lamps, partials sound together', () => {
  const stack = chordOf({ keys: [48, 55], part: { strategy: { kind: 'partials', ratios: [1, 1.5, 2] } } })
  expect(stack.sounds).toBe('in-turn')
  expect(
    stack.intervals.map(({ lower, upper, wantedCents }) => [
      lower.key,
      lower.ratio,
      upper.key,
      upper.ratio,
      Math.round(wantedCents),
    ]),
  ).toEqual([
    [48, 1, 48, 1.5, 702],
    [48, 1, 48, 2, 1200],
    [48, 1, 55, 1, 700],
    [48, 1.5, 48, 2, 498],
    [48, 1.5, 55, 1.5, 700],
    [48, 2, 55, 2, 700],
    [55, 1, 55, 1.5, 702],
    [55, 1, 55, 2, 1200],
    [55, 1.5, 55, 2, 498],
  ])
  expect(stack.refused).toEqual([
    { key: 48, lamps: ['sedge'], why: 'not-taken' },
    { key: 55, lamps: ['sedge'], why: 'not-taken' },
  ])
})

test('keys that do not sound say why', () => {
  const narrow = [{ lowHz: 430, highHz: 450 }, {}, {}, {}]
  expect(chordOf({ keys: [60, 69], lamps: narrow, part: { notes: [60, 72] } }).refused).toEqual([
    { key: 60, lamps: ['fern'], why: 'range' },
  ])
  expect(chordOf({ keys: [59], part: { notes: [60, 72] } }).refused).toEqual([
    { key: 59, lamps: ['fern', 'moss', 'reed', 'sedge'], why: 'not-taken' },
  ])
  const moved = chordOf({ keys: [0], part: { transpose: -1 }, tuning: 'just' })
  expect(moved.refused).toEqual([])
})

test('what moves by itself is named', () => {
  const part = { glide: { ms: 80 }, vibrato: {}, pulse: { ratio: '3:2', controller: 1 } }
  expect(chordOf({ keys: [60], part, song: { wander: {} } }).motions).toEqual([
    'glide',
    'vibrato',
    'wander',
    'pulse',
  ])
})

test('no such song or part', () => {
  const show = validShow(quietHouse())
  expect(chord(show, 'none', 'lead', [60])).toBeUndefined()
  expect(chord(show, 'tide', 'none', [60])).toBeUndefined()
})

test('the simplest ratio near an interval', () => {
  // Cents of just intervals by the formula: 7/4 968.83, 5/3 884.36, 8/5 813.69, 7/5 582.51.
  const named = [0, 19, 100, 300, 386, 400, 498, 582, 702, 720, 723, 814, 884, 969, 1200, 1902, 3600, 4800]
  expect(named.map((one) => simpleRatioNear(one)?.join('/'))).toEqual([
    undefined,
    undefined,
    undefined,
    '6/5',
    '5/4',
    '5/4',
    '4/3',
    '7/5',
    '3/2',
    '3/2',
    undefined,
    '8/5',
    '5/3',
    '7/4',
    '2/1',
    '3/1',
    '8/1',
    undefined,
  ])
  // Two forks at 440 and 442 Hz, an octave and a fifth below one of 661.
  expect(partialBeats([1, 1], 440, 442)).toBe(2)
  expect(partialBeats([3, 2], 440, 661)).toBe(2)
})
