import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { Json, RawShow } from '../../../support/shows.ts'

/** What is said of keys and lamps of one player's parts. */
function zones(parts: Json[], more: RawShow = {}): string[] {
  const all = found(quietHouse({ rig: rig(), songs: [tide(parts)], ...more }))
  return all.filter((line) => line.includes(' of player ') || line.includes(' is split '))
}

const high = (more: RawShow = {}) => lead({ id: 'high', notes: [60, 127], ...more })
const low = (more: RawShow = {}) => lead({ id: 'low', notes: [0, 59], ...more })

test('two zones that meet leave nothing to say, whatever lamps they have', () => {
  expect(zones([low({ lamps: ['fern', 'moss'] }), high({ lamps: ['reed', 'sedge'] })])).toEqual([])
  expect(zones([low(), high()])).toEqual([])
})

test('keys that two parts of a player take on the same lamps', () => {
  expect(
    zones([low({ notes: [0, 64], lamps: ['fern', 'moss', 'reed'] }), high({ lamps: ['moss', 'reed'] })]),
  ).toEqual([
    'note, song tide: parts low and high of player keys both take C4 (60) to E4 (64) on lamps moss and reed: such a key sounds in both, and each wants a lamp for it. Part their "notes" or their lamps where that is not meant.',
  ])
})

test('a layer on lamps of its own is meant', () => {
  expect(zones([lead({ lamps: ['fern', 'moss'] }), lead({ id: 'layer', lamps: ['reed', 'sedge'] })])).toEqual(
    [],
  )
})

test('chimes meet only where one lamp answers the same key in both', () => {
  const chime = (id: string, notes: number[], more: RawShow = {}) =>
    lead({ id, lamps: ['fern', 'moss'], strategy: { kind: 'chime', notes }, ...more })
  expect(zones([chime('one', [60, 62]), chime('two', [62, 60])])).toEqual([])
  // Played an octave below.
  expect(zones([chime('one', [60, 62]), chime('two', [72, 64], { transpose: 12 })])).toEqual([
    expect.stringMatching(
      /^note, song tide: parts one and two of player keys both take C4 \(60\) on lamp fern:/,
    ),
  ])
})

test('keys that a split leaves out', () => {
  expect(zones([low({ notes: [0, 47] }), high({ notes: [52, 120] })])).toEqual([
    'note, song tide: player keys is split between parts low and high, and none of them takes C3 (48) to D#3 (51), C#9 (121) to G9 (127): played, these light nothing. Widen "notes" of a part where that is not meant.',
  ])
})

test('a key that is a control is not missed, and no more is what parts without a split do not take', () => {
  const control = { player: 'keys', on: { kind: 'note', key: 59 }, do: 'next' }
  expect(zones([low({ notes: [0, 58] }), high()], { switching: { controls: [control] } })).toEqual([])
  expect(zones([low({ notes: [0, 58] }), high()])).toEqual([
    expect.stringContaining('none of them takes B3 (59):'),
  ])
  expect(zones([lead(), lead({ id: 'layer', lamps: ['fern'] })])).toEqual([
    expect.stringContaining('both take C2 (36) to C8 (108) on lamp fern'),
  ])
})

test('parts of different players are nobody’s split', () => {
  const players = [
    { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
    { id: 'bass', kind: 'keys', input: { port: 'Bass' } },
  ]
  expect(zones([low({ notes: [0, 40] }), high({ player: 'bass' })], { players })).toEqual([])
})
