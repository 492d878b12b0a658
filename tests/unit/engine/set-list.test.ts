import { expect, test } from 'vitest'
import { firstPlace, SetListWalk } from '../../../app/engine/set-list.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const song = (id: string) => ({
  id,
  title: id,
  parts: [{ id: 'lead', player: 'keys', lamps: ['fern'], strategy: { kind: 'unison' } }],
})

function show(setList: readonly string[], songs: readonly string[] = ['tide', 'dew', 'mist', 'sun']) {
  return validShow(glasshouse({ songs: songs.map(song), setList: [...setList] } as never))
}

/** `tide dew tide mist`, and `sun`, which is not in it. */
const TWICE = show(['tide', 'dew', 'tide', 'mist'])

test('it begins where it is told, where that is not another song, else at the first place of the song', () => {
  expect(firstPlace(TWICE)).toEqual({ song: 'tide', position: 0 })
  expect(firstPlace(TWICE, undefined, 3)).toEqual({ song: 'mist', position: 3 })
  expect(firstPlace(TWICE, 'tide', 2)).toEqual({ song: 'tide', position: 2 })
  expect(firstPlace(TWICE, 'tide', 1)).toEqual({ song: 'tide', position: 0 })
  expect(firstPlace(TWICE, 'sun')).toEqual({ song: 'sun', position: null })
  expect(firstPlace(TWICE, undefined, 9)).toEqual({ song: 'tide', position: 0 })
})

test('a song that stands in the set list twice is two places; at the ends there is nothing', () => {
  const walk = new SetListWalk(TWICE, firstPlace(TWICE))
  const went = ['tide 0']
  for (let next = walk.neighbour('next'); next; next = walk.neighbour('next')) {
    walk.go(next)
    went.push(`${walk.place.song} ${walk.place.position}`)
  }
  expect(went).toEqual(['tide 0', 'dew 1', 'tide 2', 'mist 3'])
  walk.go({ song: 'tide', position: 2 })
  expect(walk.placeOf('tide')).toEqual({ song: 'tide', position: 2 })
  expect(walk.placeOf('tide', 0)).toEqual({ song: 'tide', position: 0 })
  expect(walk.neighbour('previous')).toEqual({ song: 'dew', position: 1 })
  walk.go({ song: 'tide', position: 0 })
  expect(walk.neighbour('previous')).toBeUndefined()
})

test('from a song that is not in the set list one goes on where one had left it', () => {
  const walk = new SetListWalk(TWICE, { song: 'dew', position: 1 })
  walk.go(walk.placeOf('sun'))
  expect(walk.place).toEqual({ song: 'sun', position: null })
  expect(walk.neighbour('next')).toEqual({ song: 'tide', position: 2 })
  expect(walk.neighbour('previous')).toEqual({ song: 'dew', position: 1 })
  const outside = new SetListWalk(TWICE, { song: 'sun', position: null })
  expect(outside.neighbour('next')).toEqual({ song: 'tide', position: 0 })
  expect(outside.neighbour('previous')).toBeUndefined()
})

test('an edited show keeps the song at its nearest place, or goes to what stands there now', () => {
  const revised = (position: number, setList: readonly string[], songs?: readonly string[]) => {
    const walk = new SetListWalk(TWICE, firstPlace(TWICE, undefined, position))
    return walk.revise(show(setList, songs))
  }
  expect(revised(2, ['tide', 'dew', 'tide', 'mist'])).toEqual({ song: 'tide', position: 2 })
  expect(revised(2, ['dew', 'tide', 'mist', 'tide', 'tide'])).toEqual({ song: 'tide', position: 1 })
  expect(revised(3, ['mist', 'dew', 'tide'])).toEqual({ song: 'mist', position: 0 })
  expect(revised(1, ['tide', 'mist'])).toEqual({ song: 'dew', position: null })
  expect(revised(1, ['tide', 'mist'], ['tide', 'mist'])).toEqual({ song: 'mist', position: 1 })
  expect(revised(3, ['tide', 'dew'], ['tide', 'dew'])).toEqual({ song: 'dew', position: 1 })
})

test('next and previous go by the edited set list', () => {
  const walk = new SetListWalk(TWICE, firstPlace(TWICE, undefined, 1))
  walk.revise(show(['mist', 'tide']))
  expect(walk.place).toEqual({ song: 'dew', position: null })
  expect(walk.neighbour('next')).toBeUndefined()
  expect(walk.neighbour('previous')).toEqual({ song: 'tide', position: 1 })
})
