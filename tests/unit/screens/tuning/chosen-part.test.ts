import { expect, test } from 'vitest'
import { chosenPart } from '../../../../app/screens/tuning/chosen-part.ts'
import { liveDuties, partDuties } from '../../../../app/screens/tuning/duties-in-use.ts'
import { demoShow } from '../../../support/demo.ts'

const show = demoShow()

function chosen(playing: string | undefined, ...rest: string[]): unknown {
  const found = chosenPart(show, playing, rest)
  return found && [found.song.id, found.part?.id, found.missing]
}

test('left out: the playing song and its first part; before any plays, the first of the set list', () => {
  expect(chosen('mist')).toEqual(['mist', 'arc', undefined])
  expect(chosen(undefined)).toEqual(['dew', 'lead', undefined])
})

test('named, and named wrongly', () => {
  expect(chosen('mist', 'dew', 'drips')).toEqual(['dew', 'drips', undefined])
  expect(chosen('mist', 'dew')).toEqual(['dew', 'lead', undefined])
  expect(chosen('mist', 'fog', 'lead')).toEqual(['mist', 'arc', 'There is no song "fog" in this show.'])
  expect(chosen('mist', 'dew', 'fog')).toEqual(['dew', 'lead', 'There is no part "fog" in Dew on the panes.'])
})

test('a show without songs, and a song without parts', () => {
  expect(chosenPart({ ...show, songs: [] }, 'mist', [])).toBeUndefined()
  const bare = { ...show, songs: show.songs.map((song) => ({ ...song, parts: [] })) }
  expect(chosenPart(bare, 'mist', [])?.part).toBeUndefined()
})

test('the duties a part may have', () => {
  const duties = show.songs.flatMap(({ parts }) =>
    parts.map((part) => [
      part.id,
      partDuties(part)
        .map(({ name, duty }) => `${name} ${duty}`)
        .join(', '),
    ]),
  )
  expect(Object.fromEntries(duties)).toMatchObject({
    lead: 'base 0.3, low 0.05, high 0.5',
    low: 'base 0.2',
    drips: 'low 0.08, high 0.45',
  })
})

test('the duties that lamps of a part have now', () => {
  const lit = { on: true, player: 'keys', key: 60 }
  const lamps = new Map(
    [
      { lamp: 'fern', ...lit, part: 'lead', duty: 0.123456 },
      { lamp: 'moss', ...lit, part: 'low', duty: 0.2 },
      { lamp: 'reed', on: false },
    ].map((one) => [one.lamp, one]),
  )
  expect(liveDuties(lamps, 'lead', (lamp) => lamp.toUpperCase())).toEqual([
    { id: 'lamp fern', name: 'FERN', duty: 0.123 },
  ])
})
