import { expect, test } from 'vitest'
import type { TuningAsk } from '../../../../src/offline/tuning/part-tuning.ts'
import { farthestOf, partTunings } from '../../../../src/offline/tuning/part-tuning.ts'
import { signed, textTable } from '../../../../src/offline/tuning/text-table.ts'
import { tuningJson } from '../../../../src/offline/tuning/tuning-json.ts'
import { tuningText } from '../../../../src/offline/tuning/tuning-text.ts'
import { lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { RawShow } from '../../../support/shows.ts'
import { validShow } from '../../../support/valid-show.ts'

const EVEN = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
const WHITE = {
  id: 'white',
  kind: 'scale',
  name: 'White keys',
  pitches: ['9/8', '5/4', '4/3', '3/2', '5/3', '15/8', '2/1'],
  map: { middle: 60, formalOctave: 7, degrees: [0, null, 1, null, 2, 3, null, 4, null, 5, null, 6] },
  refNote: 69,
  refHz: 440,
}

function house(part: RawShow, more: RawShow = {}, lamps: RawShow[] = []) {
  const all = rig()
  const own = (all['lamps'] as RawShow[]).map((lamp, place) => ({ ...lamp, ...lamps[place] }))
  return validShow(
    quietHouse({
      rig: { ...all, lamps: own },
      tunings: [EVEN, WHITE, { id: 'sent', kind: 'received', player: 'keys', base: 'white' }],
      songs: [tide([lead(part)], more)],
    }),
  )
}

const text = (show: ReturnType<typeof house>, ask: TuningAsk = {}) => tuningText(partTunings(show, ask))
const json = (show: ReturnType<typeof house>, ask: TuningAsk = {}) =>
  tuningJson(partTunings(show, ask)).map((line) => JSON.parse(line) as Record<string, unknown>)

// ISO 16: key 69 is 440 Hz. ATmega640/1280/2560 data sheet, ticks of 16 MHz, of 2 MHz under 244.14 Hz: A4 36364, A#4 34323, A3 9091, A#3 8581.
test('a table for the lamps that come to the same, octaves, and the farthest', () => {
  const show = house({ notes: [69, 70] }, {}, [{}, { highHz: 450 }, {}, { trimCents: -1200 }])
  expect(text(show).split('\n')).toEqual([
    'song tide "Tide table", part lead, player keys',
    '  tuning even: 12 equal steps to the octave; A4 (69) sounds 440 Hz',
    '  lamps fern and reed',
    '    note  key  Hz wanted  octaves   Hz made    cents',
    '    A4     69   440.0000        0  439.9956  -0.0173',
    '    A#4    70   466.1638        0  466.1597  -0.0150',
    '  lamp moss',
    '    note  key  Hz wanted  octaves   Hz made    cents',
    '    A4     69   440.0000        0  439.9956  -0.0173',
    '    A#4    70   466.1638       -1  233.0731  -0.0655',
    '  lamp sedge',
    '    note  key  Hz wanted  octaves   Hz made    cents',
    '    A4     69   220.0000        0  219.9978  -0.0173',
    '    A#4    70   233.0819        0  233.0731  -0.0655',
    '',
    'Farthest off: key A#4 (70) of song tide, part lead on lamp moss: 233.0819 Hz asked, 233.0731 Hz made, -0.0655 cents.',
    'About 5 cents are heard (common practice, no source). These are roundings alone: how true the clock of a lamp box runs comes on top.',
  ])
})

test('keys without a pitch, keys that are dark, lamps that are never lit', () => {
  const show = house(
    { notes: [69, 72], strategy: { kind: 'partials', ratios: [1, 2] } },
    { tuning: 'white' },
    [{}, { lowHz: 1000, highHz: 1050 }],
  )
  const lines = text(show).split('\n')
  expect(lines).toEqual(
    expect.arrayContaining([
      '  tuning white: White keys; A4 (69) sounds 440 Hz',
      '    the tuning has no pitch for A#4 (70)',
      // A4 is a just major sixth over C4, so B4 and C5 are 495 and 528 Hz; twice that is 990 and 1056.
      '    dark, since no octave of them is within what lamp and output can do: A4 (69), B4 (71) to C5 (72)',
      '  lamps reed and sedge: no note of this part goes there',
    ]),
  )
  expect(lines).toContain('    B4     71   495.0000        0  495.0036  +0.0124')
})

test('what moves by itself, a pulse, keys that are moved, and what is received', () => {
  const lines = (part: RawShow, more: RawShow = {}) =>
    text(house({ notes: [60, 60], ...part }, more)).split('\n')
  expect(lines({ glide: { ms: 50 }, transpose: -12 }, { wander: {} }).slice(0, 3)).toEqual([
    'song tide "Tide table", part lead, player keys, moved by -12 keys',
    '  tuning even: 12 equal steps to the octave; A4 (69) sounds 440 Hz',
    '  the part has glide and wander: these are the steady pitches',
  ])
  const pulse = lines({ pulse: { ratio: '3:2' } })
  expect(pulse[2]).toBe(
    '  a pulse without a controller: lamps flash 3 times a second, and never come to these pitches',
  )
  expect(pulse.at(-1)).toBe('No lamp comes to a pitch here.')
  expect(lines({ tuning: 'sent' }).slice(1, 3)).toEqual([
    '  tuning sent: as player keys sends it, tuning program 0; else as white',
    '  until that comes, these are the pitches of tuning white',
  ])
})

test('what is asked about alone', () => {
  const show = house({ notes: [69, 69] }, {}, [{}, { trimCents: 7 }])
  expect(text(show, { lamp: 'moss' })).not.toContain('fern')
  expect(partTunings(show, { song: 'none' })).toEqual([])
  expect(partTunings(show, { part: 'none' })).toEqual([])
  expect(farthestOf(partTunings(show, { lamp: 'moss' }))?.lamps).toEqual(['moss'])
})

test('a chord: its tones, intervals, what beats, and keys that do not sound', () => {
  const show = house({ notes: [60, 72] }, { tuning: 'white' }, [{}, { trimCents: 2 }, {}, {}])
  const lines = text(show, { chord: [60, 61, 67, 80] }).split('\n')
  // C4 is 440 x 3/5 = 264 Hz, G4 396: 60606 and 40404 ticks.
  expect(lines).toEqual(
    expect.arrayContaining([
      '  note  key  Hz wanted  octaves   Hz made    cents  lamps',
      '  C4     60   264.0000        0  264.0003  +0.0017  fern, reed and sedge',
      '  the tuning has no pitch for C#4 (61) on lamps fern, moss, reed and sedge',
      '  not one of the keys that light it: G#5 (80) on lamps fern, moss, reed and sedge',
      '  intervals of what sounds, octaves moved and all',
      '  lamps that are to sound one pitch',
    ]),
  )
  expect(lines.find((line) => line.startsWith('  C4 on fern, reed and sedge  G4 on fern'))).toMatch(
    / 1\.500000 +701\.9550 +701\.9550 +0\.0000 +0\.0000 +3:2 +0\.000 +0\.000$/,
  )
  expect(lines.find((line) => line.startsWith('  C4 on fern, reed and sedge  C4 on moss'))).toMatch(
    / 0\.30\d\d$/,
  )
})

test('the same as lines of JSON', () => {
  const show = house({ notes: [69, 70] }, { tuning: 'white' }, [{}, {}, {}, { lowHz: 500, highHz: 600 }])
  expect(json(show)).toEqual([
    { kind: 'part', song: 'tide', part: 'lead', player: 'keys', transpose: 0, tuning: 'white', motions: [] },
    {
      kind: 'key',
      song: 'tide',
      part: 'lead',
      lamps: ['fern', 'moss', 'reed'],
      key: 69,
      note: 'A4',
      wantedHz: 440,
      octaves: 0,
      hz: 440,
      realHz: 439.9956,
      cents: -0.017312,
    },
    {
      kind: 'silent',
      song: 'tide',
      part: 'lead',
      lamps: ['fern', 'moss', 'reed'],
      key: 70,
      note: 'A#4',
      why: 'unmapped',
    },
    { kind: 'silent', song: 'tide', part: 'lead', lamps: ['sedge'], key: 69, note: 'A4', why: 'range' },
    { kind: 'silent', song: 'tide', part: 'lead', lamps: ['sedge'], key: 70, note: 'A#4', why: 'unmapped' },
    {
      kind: 'farthest',
      song: 'tide',
      part: 'lead',
      lamps: ['fern', 'moss', 'reed'],
      key: 69,
      hz: 440,
      realHz: 439.9956,
      cents: -0.017312,
    },
  ])
  const kinds = json(house({ notes: [60, 72] }, {}, [{ trimCents: 3 }]), { chord: [60, 64, 99] }).map(
    ({ kind }) => kind,
  )
  expect([...new Set(kinds)]).toEqual(['part', 'tone', 'silent', 'interval', 'beat', 'farthest'])
})

test('tables and signs', () => {
  expect(
    textTable(
      [{ head: 'a', isText: true }, { head: 'n' }],
      [
        ['long', '1'],
        ['b', '22'],
      ],
    ),
  ).toEqual(['a      n', 'long   1', 'b     22'])
  expect([signed(-0.00001, 4), signed(0.5, 1), signed(-1.5, 1), signed(0, 0)]).toEqual([
    '0.0000',
    '+0.5',
    '-1.5',
    '0',
  ])
})
