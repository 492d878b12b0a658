import { expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const EVEN = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
const JUST = { id: 'just', kind: 'scale', pitches: ['9/8', '5/4', '3/2', '2'], refNote: 60, refHz: 264 }
const BASS = { id: 'bass', kind: 'keys', input: { port: 'Bass keys' } }
const part = (id: string, player: string, lamp: string, more: object = {}) => ({
  id,
  player,
  lamps: [lamp],
  strategy: { kind: 'lowest-free' },
  ...more,
})

/** The keys on fern in the song's tuning, the bass on moss in even steps whatever the song's. */
function house({ songs, tunings, ...more }: RawShow = {}): Show {
  const parts = [part('lead', 'keys', 'fern'), part('low', 'bass', 'moss', { tuning: 'even' })]
  const { players } = glasshouse() as { players: RawShow[] }
  return validShow(
    glasshouse({
      players: [...players, BASS],
      tunings: tunings ?? [EVEN, JUST],
      songs: songs ?? [
        { id: 'tide', title: 'Tide table', tuning: 'even', parts },
        { id: 'dew', title: 'Dew', tuning: 'just', enter: 'carry', parts },
      ],
      setList: ['tide', 'dew'],
      ...more,
    } as RawShow),
  )
}

function hzOf(run: GraphRun): (number | null)[] {
  return run.graph.lamps.slice(0, 2).map((lamp) => (lamp.on ? Number(lamp.hz.toFixed(6)) : null))
}

const E5 = 659.255114
const on = (key: number) => [0x90, key, 100]
const off = (key: number) => [0x80, key, 64]

function bothPlay(show: Show): GraphRun {
  const run = new GraphRun(show)
  run.graph.play('keys', on(62), 1000)
  run.graph.play('bass', on(76), 1000)
  run.graph.advance(1000)
  return run
}

test('a song has its tuning, a part its own in place of it', () => {
  const run = bothPlay(house())
  expect(hzOf(run)).toEqual([293.664768, E5])
  run.graph.changeSong('dew', 2000)
  expect(hzOf(run)).toEqual([264 * 1.25, E5])
})

test('switched live, what sounds goes along without a strike', () => {
  const run = bothPlay(house())
  run.graph.tune('just', true, 2000)
  expect(hzOf(run)).toEqual([330, E5])
  const frame = run.of('frame').at(-1)
  expect(frame?.at).toBe(2000)
  expect(frame?.changes.map(({ lamp, state }) => [lamp, state.on && state.strike])).toEqual([['fern', false]])
  expect(run.graph.tuning).toBe('just')
  run.graph.tune(null, true, 3000)
  expect(hzOf(run)).toEqual([293.664768, E5])
})

test('or it stays, and notes to come are in the other', () => {
  const run = bothPlay(house())
  run.graph.tune('just', false, 2000)
  expect(hzOf(run)).toEqual([293.664768, E5])
  run.graph.play('keys', [...off(62), ...on(62)], 3000)
  run.graph.advance(3000)
  expect(hzOf(run)).toEqual([330, E5])
})

test('the next song begins in its own', () => {
  const run = bothPlay(house())
  run.graph.tune('just', true, 2000)
  run.graph.changeSong('dew', 3000)
  expect(run.graph.tuning).toBeNull()
  run.graph.changeSong('tide', 4000)
  run.graph.play('keys', on(62), 5000)
  run.graph.advance(5000)
  expect(hzOf(run)[0]).toBe(293.664768)
  expect(run.of('tuning').map(({ tuning }) => tuning)).toEqual(['just', null])
})

test('a player switches it by a control, which is not played; what is struck with it is in it', () => {
  const controls = [
    { player: 'keys', on: { kind: 'note', key: 24 }, do: { tuning: 'just', retune: false } },
    { player: 'keys', on: { kind: 'controller', controller: 80 }, do: { tuning: 'even' } },
  ]
  const run = bothPlay(house({ switching: { controls } }))
  run.graph.play('keys', [...on(24), ...off(24), ...off(62), ...on(62)], 2000)
  run.graph.advance(2000)
  expect(hzOf(run)).toEqual([330, E5])
  expect(run.of('tuning')).toEqual([{ kind: 'tuning', at: 2000, tuning: 'just', retune: false }])
  run.graph.play('keys', [0xb0, 80, 127], 3000)
  run.graph.advance(3000)
  expect(hzOf(run)).toEqual([293.664768, E5])
})

test('edited while it plays, the song goes on in what its tuning has become', () => {
  const run = bothPlay(house())
  const flat = { ...EVEN, refHz: 432 }
  expect(run.graph.revise(house({ tunings: [flat, JUST] }), 2000)).toBe(false)
  expect(hzOf(run)).toEqual([288.325409, 647.268657])
  expect(
    run
      .of('frame')
      .at(-1)
      ?.changes.every(({ state }) => state.on && !state.strike),
  ).toBe(true)
})

test('an edit of something else leaves what sounds in the tuning that it was struck in', () => {
  const run = bothPlay(house())
  run.graph.tune('just', false, 2000)
  run.graph.revise(house({ title: 'Third night' }), 3000)
  expect(hzOf(run)).toEqual([293.664768, E5])
  expect(run.graph.tuning).toBe('just')
})

test('a tuning that was chosen and is edited away gives way to the song’s own', () => {
  const run = bothPlay(house())
  run.graph.tune('just', true, 2000)
  const only = house({ tunings: [EVEN], songs: [{ ...rawTide(), tuning: 'even' }], setList: ['tide'] })
  expect(run.graph.revise(only, 3000)).toBe(false)
  expect(hzOf(run)).toEqual([293.664768, E5])
  expect(run.graph.tuning).toBeNull()
})

test('a tuning that the show has not is refused, and nothing changes', () => {
  const run = bothPlay(house())
  expect(() => run.graph.tune('oak', true, 2000)).toThrow(RangeError)
  expect(hzOf(run)).toEqual([293.664768, E5])
})

test('put down and taken up, it goes on in the tuning that was chosen', () => {
  const run = bothPlay(house())
  run.graph.tune('just', true, 2000)
  run.putDown()
  run.graph.play('keys', [...off(62), ...on(64)], 3000)
  run.graph.advance(3000)
  expect(hzOf(run)).toEqual([528, E5])
  expect(run.graph.tuning).toBe('just')
})

test('a key that its tuning has no pitch for lights nothing, and is told', () => {
  const map = { first: 60, last: 62, middle: 60, formalOctave: 4 }
  const run = new GraphRun(
    house({
      tunings: [EVEN, { ...JUST, map }],
      songs: [{ ...rawTide(), tuning: 'just' }],
      setList: ['tide'],
    }),
  )
  run.graph.play('keys', on(63), 1000)
  run.graph.advance(1000)
  expect(run.litLamps()).toEqual([])
  expect(run.of('refused').map(({ reason, lamp }) => [reason, lamp])).toEqual([['unmapped', 'fern']])
  run.graph.play('keys', on(61), 2000)
  run.graph.advance(2000)
  expect(hzOf(run)[0]).toBe(297)
})

function rawTide(): RawShow {
  const parts = [part('lead', 'keys', 'fern'), part('low', 'bass', 'moss', { tuning: 'even' })]
  return { id: 'tide', title: 'Tide table', parts }
}
