import { expect, test } from 'vitest'
import { found, foundPaths, lead, quietHouse, tide } from '../../../support/checked-show.ts'
import type { Json, RawShow } from '../../../support/shows.ts'

function house(songs: RawShow[], overrides: RawShow = {}): RawShow {
  return quietHouse({ songs, ...overrides })
}

function song(id: string, more: RawShow = {}): RawShow {
  return tide([lead()], { id, ...more })
}

function goesBy(act: Json): RawShow {
  return {
    controls: [
      { player: 'keys', on: { kind: 'program', ...(act === 'number' ? {} : { program: 1 }) }, do: act },
    ],
  }
}

test('every song of the set list skipped', () => {
  const raw = house([song('tide', { skip: true }), song('ebb', { skip: true })])
  expect(found(raw)).toEqual([
    'warning, $.setList: every song of the set list is skipped, so next and previous go nowhere. Take "skip" off the songs of the night.',
  ])
  expect(foundPaths(raw)).toEqual([['setList']])
  expect(found(house([song('tide', { skip: true }), song('ebb')]))).toEqual([])
})

test('a variant and its song both in the set list', () => {
  const songs = [song('tide'), song('ebb', { variantOf: 'tide' })]
  const raw = house(songs, { setList: ['tide', 'tide', 'ebb'], switching: goesBy('next') })
  expect(found(raw)).toEqual([
    expect.stringMatching(
      /^note, \$\.setList: song ebb is a variant of tide, and both stand in the set list/,
    ),
  ])
  expect(foundPaths(raw)).toEqual([['setList', 2]])
  expect(found(house(songs, { setList: ['ebb'] }))).toEqual([])
  expect(found(house(songs))).toEqual([])
})

test('no way on to the next song but a screen', () => {
  const songs = [song('tide'), song('ebb')]
  const raw = house(songs)
  expect(found(raw)).toEqual([
    expect.stringMatching(
      /^note, \$\.switching: no control goes on to the next song: only somebody at a screen can/,
    ),
  ])
  expect(foundPaths(raw)).toEqual([['switching']])
  for (const act of ['next', 'number', { song: 'ebb' }, { place: 2 }]) {
    expect(found(house(songs, { switching: goesBy(act) }))).toEqual([])
  }
  for (const act of ['previous', 'dark']) {
    expect(found(house(songs, { switching: goesBy(act) }))).toHaveLength(1)
  }
  // There is nowhere to go.
  expect(found(house([song('tide'), song('ebb', { skip: true })]))).toEqual([])
  expect(found(house([song('tide')]))).toEqual([])
})
