import { expect, test } from 'vitest'
import { found, foundPaths, lead, quietHouse, tide } from '../../../support/checked-show.ts'
import type { Json, RawShow } from '../../../support/shows.ts'

const KEYS = { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1, 2] } }
const PADS = { id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] } }

function control(on: RawShow, act: Json = 'next', player = 'keys'): RawShow {
  return { player, on, do: act }
}

function house(controls: RawShow[], overrides: RawShow = {}): RawShow {
  return quietHouse({ players: [KEYS], switching: { controls }, ...overrides })
}

const PEDAL = control({ kind: 'controller', controller: 80 })

test('nothing is said of a pedal that nobody else needs', () => {
  expect(found(house([PEDAL, control({ kind: 'program' }, 'number')]))).toEqual([])
})

test('a key that a part has in its range is not played any more', () => {
  const raw = house([PEDAL, control({ kind: 'note', key: 36 })])
  expect(found(raw)).toEqual([
    'note, $.switching.controls[1]: C2 (36) of player keys is a control, so it is not played any more by part lead of song tide. Where that is meant, "notes" of the part may leave it out.',
  ])
  expect(foundPaths(raw)).toEqual([['switching', 'controls', 1]])
  // The part takes keys 36 to 108.
  expect(found(house([control({ kind: 'note', key: 35 })]))).toEqual([])
  expect(found(house([control({ kind: 'note', key: 109 })]))).toEqual([])
})

test('of a chime only the keys it answers to, as they are played', () => {
  const chime = lead({
    strategy: { kind: 'chime', notes: [60, 62, 64, 65] },
    transpose: 12,
  })
  const told = (key: number): number =>
    found(house([control({ kind: 'note', key })], { songs: [tide([chime])] })).length
  expect([48, 49, 50, 60].map(told)).toEqual([1, 0, 1, 0])
})

test('another player’s keys, and parts of songs that the night does not come to, are no matter', () => {
  const songs = [
    tide([lead({ lamps: ['fern', 'moss'] }), lead({ id: 'hits', player: 'pads', lamps: ['reed', 'sedge'] })]),
    tide([lead({ id: 'far', notes: [20, 20] })], { id: 'ebb' }),
  ]
  const raw = (key: number): RawShow =>
    house([control({ kind: 'note', key }, 'next', 'pads')], {
      players: [KEYS, PADS],
      songs,
      setList: ['tide'],
    })
  expect(found(raw(40)).filter((line) => line.includes('is a control'))).toEqual([
    expect.stringContaining(
      'E2 (40) of player pads is a control, so it is not played any more by part hits of song tide.',
    ),
  ])
  expect(found(raw(20)).filter((line) => line.includes('is a control'))).toEqual([])
})

test('a channel that the player does not listen to', () => {
  const raw = house([control({ kind: 'controller', controller: 80, channel: 3 })])
  expect(found(raw)).toEqual([
    expect.stringMatching(
      /^fault, \$\.switching\.controls\[0\]: this control is on channel 3, which player keys does not listen to \(1 and 2\)/,
    ),
  ])
  expect(found(house([control({ kind: 'controller', controller: 80, channel: 2 })]))).toEqual([])
})

test('a controller that moves a part’s duty', () => {
  const songs = [tide([lead({ duty: { controller: 74 } })])]
  const raw = house([control({ kind: 'controller', controller: 74 })], { songs })
  expect(found(raw)).toEqual([
    expect.stringMatching(
      /^warning, \$\.switching\.controls\[0\]: controller 74 .* does not move the duty any more of part lead of song tide\. Take another/,
    ),
  ])
  expect(foundPaths(raw)).toEqual([['switching', 'controls', 0]])
  expect(found(house([PEDAL], { songs }))).toEqual([])
})

test.each([
  [
    64,
    /^warning, .*controller 64 of player keys is a control, and on most keyboards the sustain pedal: it holds no note any more/,
  ],
  [66, /^warning, .*sostenuto pedal: it holds no note any more/],
  [67, /^note, .*soft pedal: who presses it changes songs/],
])('pedal %i of a keyboard', (controller, message) => {
  expect(found(house([control({ kind: 'controller', controller })]))).toEqual([
    expect.stringMatching(message),
  ])
})

test('pads have no pedal to lose, but many send program changes by themselves', () => {
  const songs = [tide([lead({ player: 'pads' })])]
  const of = (on: RawShow): string[] =>
    found(house([control(on, 'next', 'pads')], { players: [PADS], songs }))
  expect(of({ kind: 'controller', controller: 64 })).toEqual([])
  expect(of({ kind: 'program' })).toEqual([
    expect.stringMatching(/^note, \$\.switching\.controls\[0\]: program changes of player pads are controls/),
  ])
})

test('the next variant, where there is none', () => {
  const variant = control({ kind: 'controller', controller: 81 }, 'variant')
  expect(found(house([PEDAL, variant]))).toEqual([
    expect.stringMatching(/^note, \$\.switching\.controls\[1\]: .* no song has one: it does nothing/),
  ])
  const songs = [tide([lead()]), tide([lead()], { id: 'ebb', variantOf: 'tide' })]
  expect(found(house([PEDAL, variant], { songs }))).toEqual([])
})
