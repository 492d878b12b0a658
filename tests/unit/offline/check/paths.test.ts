import { expect, test } from 'vitest'
import { checkShow } from '../../../../src/offline/check-show.ts'
import { condensed } from '../../../../src/offline/check/condense.ts'
import { lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { RawShow } from '../../../support/shows.ts'
import { validShow } from '../../../support/valid-show.ts'

/** The path of the one finding whose message is like that. */
function pathOf(raw: RawShow, message: RegExp): unknown {
  const found = checkShow(validShow(raw)).filter((one) => message.test(one.message))
  expect(found).toHaveLength(1)
  return found[0]?.path
}

test('a part: the song by its place in the show, the part by its place in the song', () => {
  const songs = [
    tide([lead()]),
    tide([lead(), lead({ id: 'low', notes: [0, 10], lamps: ['fern'], gapMs: 4 })], { id: 'ebb' }),
  ]
  expect(pathOf(quietHouse({ songs }), /struck again while lit/)).toEqual(['songs', 1, 'parts', 1])
})

test('several parts of a song: the first that it is about', () => {
  const parts = [lead(), lead({ id: 'low', notes: [0, 20] }), lead({ id: 'lower', notes: [0, 10] })]
  expect(pathOf(quietHouse({ songs: [tide(parts)] }), /slowly enough to be seen/)).toEqual([
    'songs',
    0,
    'parts',
    1,
  ])
})

test('a whole song', () => {
  const heavy = rig({}, undefined, { maxAmps: 2 })
  expect(pathOf(quietHouse({ rig: heavy }), /may draw .* together/)).toEqual(['songs', 0])
})

test('things that are not used: the first of them', () => {
  const raw = quietHouse({
    songs: [tide([lead({ lamps: ['fern', 'reed'] })]), tide([], { id: 'ebb' }), tide([], { id: 'slack' })],
    setList: ['tide', 'slack'],
  })
  expect(pathOf(raw, /stay dark all night/)).toEqual(['rig', 'lamps', 1])
  expect(pathOf(raw, /on the set list without a part/)).toEqual(['songs', 2])
  expect(pathOf(raw, /not on the set list/)).toEqual(['setList'])
})

test('outputs and thru', () => {
  const din = { id: 'din', kind: 'midi', port: 'Box', layout: 'channel-per-lamp', bendRange: 48 }
  const raw = quietHouse({
    rig: rig({ output: 'din' }, [{ id: 'wire', kind: 'serial', port: 'virtual' }, din]),
    thru: [{ player: 'keys', to: 'din', pass: ['bend'], channel: 2 }],
  })
  expect(pathOf(raw, /bend range of 48/)).toEqual(['rig', 'outputs', 1])
  expect(pathOf(raw, /past the allocator/)).toEqual(['thru', 0])
})

test('the caution has no place of its own', () => {
  expect(pathOf(quietHouse(), /photosensitive seizures/)).toBeUndefined()
})

test('the same in many places keeps the first one', () => {
  const at = (index: number) => ({
    gravity: 'note' as const,
    where: `song ${index}`,
    message: 'too slow',
    path: ['songs', index],
  })
  expect(condensed([at(3), at(1), at(2)]).map(({ path }) => path)).toEqual([['songs', 3]])
  const rest = condensed(Array.from({ length: 14 }, (_, index) => ({ ...at(index), message: `${index}` })))
  expect(rest.at(-1)?.path).toEqual(['songs', 10])
})
