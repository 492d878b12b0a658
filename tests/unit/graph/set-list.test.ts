import { expect, test } from 'vitest'
import type { Place, Walk } from '../../../src/graph/set-list.ts'
import {
  firstPlace,
  goTo,
  neighbour,
  nextVariant,
  placeOf,
  revisedWalk,
  startWalk,
} from '../../../src/graph/set-list.ts'

const show = (setList: readonly string[], songs = ['tide', 'dew', 'mist', 'sun'], skipped = ['']) => ({
  setList,
  songs: songs.map((id) => ({
    id,
    skip: skipped.includes(id),
    ...(id.includes('-') ? { variantOf: id.split('-')[0] } : {}),
  })),
})
const at = (song: string, position: number | null): Place => ({ song, position })

/** `tide dew tide mist`, and `sun`, which is not in it. */
const TWICE = show(['tide', 'dew', 'tide', 'mist'])

test('it begins where it is told, where that is not another song, else at the first place of the song', () => {
  expect(firstPlace(TWICE)).toEqual(at('tide', 0))
  expect(firstPlace(TWICE, undefined, 3)).toEqual(at('mist', 3))
  expect(firstPlace(TWICE, 'tide', 2)).toEqual(at('tide', 2))
  expect(firstPlace(TWICE, 'tide', 1)).toEqual(at('tide', 0))
  expect(firstPlace(TWICE, 'sun')).toEqual(at('sun', null))
  expect(firstPlace(TWICE, 'sun', 2)).toEqual(at('sun', null))
  expect(firstPlace(TWICE, undefined, 9)).toEqual(at('tide', 0))
  expect(firstPlace(show([]))).toEqual(at('tide', null))
})

test('without a word it begins at the first song that is not skipped, if there is one', () => {
  expect(firstPlace(show(['tide', 'dew'], ['tide', 'dew'], ['tide']))).toEqual(at('dew', 1))
  expect(firstPlace(show(['tide', 'dew'], ['tide', 'dew'], ['tide', 'dew']))).toEqual(at('tide', 0))
})

test('a song that stands in the set list twice is two places; at the ends there is nothing', () => {
  let walk: Walk = startWalk(firstPlace(TWICE))
  const went = ['tide 0']
  for (let next = neighbour(TWICE, walk, 'next'); next; next = neighbour(TWICE, walk, 'next')) {
    walk = goTo(walk, next)
    went.push(`${next.song} ${next.position}`)
  }
  expect(went).toEqual(['tide 0', 'dew 1', 'tide 2', 'mist 3'])
  walk = goTo(walk, at('tide', 2))
  expect(placeOf(TWICE, walk, 'tide')).toEqual(at('tide', 2))
  expect(placeOf(TWICE, walk, 'tide', 0)).toEqual(at('tide', 0))
  expect(neighbour(TWICE, walk, 'previous')).toEqual(at('dew', 1))
  expect(neighbour(TWICE, goTo(walk, at('tide', 0)), 'previous')).toBeUndefined()
})

test('next and previous pass over what is skipped, also at the ends', () => {
  const list = show(['tide', 'dew', 'mist', 'sun'], undefined, ['tide', 'dew', 'sun'])
  expect(neighbour(list, startWalk(at('tide', 0)), 'next')).toEqual(at('mist', 2))
  expect(neighbour(list, startWalk(at('mist', 2)), 'next')).toBeUndefined()
  expect(neighbour(list, startWalk(at('mist', 2)), 'previous')).toBeUndefined()
})

test('from a song that is not in the set list one goes on where one had left it', () => {
  const walk = goTo(startWalk(at('dew', 1)), placeOf(TWICE, startWalk(at('dew', 1)), 'sun'))
  expect(walk.place).toEqual(at('sun', null))
  expect(neighbour(TWICE, walk, 'next')).toEqual(at('tide', 2))
  expect(neighbour(TWICE, walk, 'previous')).toEqual(at('dew', 1))
  const outside = startWalk(at('sun', null))
  expect(neighbour(TWICE, outside, 'next')).toEqual(at('tide', 0))
  expect(neighbour(TWICE, outside, 'previous')).toBeUndefined()
})

test('variants stand where their song stands, and are gone through in the order of the show', () => {
  const list = show(['dew', 'tide'], ['dew', 'tide-long', 'tide', 'tide-short'])
  let walk = startWalk(at('tide', 1))
  const round = Array.from({ length: 3 }, () => {
    walk = goTo(walk, nextVariant(list, walk) ?? at('none', null))
    return `${walk.place.song} ${walk.place.position}`
  })
  expect(round).toEqual(['tide-long 1', 'tide-short 1', 'tide 1'])
  expect(nextVariant(list, startWalk(at('dew', 0)))).toBeUndefined()
  expect(firstPlace(list, 'tide-short')).toEqual(at('tide-short', 1))
  expect(firstPlace(list, 'tide-short', 0)).toEqual(at('tide-short', 1))
  expect(neighbour(list, startWalk(at('tide-short', 1)), 'previous')).toEqual(at('dew', 0))
  expect(
    revisedWalk(show(['tide', 'dew'], ['dew', 'tide', 'tide-short']), startWalk(at('tide-short', 1))).place,
  ).toEqual(at('tide-short', 0))
})

test('an edited show keeps the song at its nearest place, or goes to what stands there now', () => {
  const revised = (position: number, setList: readonly string[], songs?: string[]): Place =>
    revisedWalk(show(setList, songs), startWalk(firstPlace(TWICE, undefined, position))).place
  expect(revised(2, ['tide', 'dew', 'tide', 'mist'])).toEqual(at('tide', 2))
  expect(revised(2, ['dew', 'tide', 'mist', 'tide', 'tide'])).toEqual(at('tide', 1))
  expect(revised(3, ['mist', 'dew', 'tide'])).toEqual(at('mist', 0))
  expect(revised(1, ['tide', 'mist'])).toEqual(at('dew', null))
  expect(revised(1, ['tide', 'mist'], ['tide', 'mist'])).toEqual(at('mist', 1))
  expect(revised(3, ['tide', 'dew'], ['tide', 'dew'])).toEqual(at('dew', 1))
})

test('next and previous go by the edited set list', () => {
  const list = show(['mist', 'tide'])
  const walk = revisedWalk(list, startWalk(at('dew', 1)))
  expect(walk.place).toEqual(at('dew', null))
  expect(neighbour(list, walk, 'next')).toBeUndefined()
  expect(neighbour(list, walk, 'previous')).toEqual(at('tide', 1))
})
