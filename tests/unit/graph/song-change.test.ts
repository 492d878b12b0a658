import { expect, test } from 'vitest'
import { validShow } from '../../support/valid-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { glasshouse } from '../../support/shows.ts'

const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]

const SHOW = validShow(
  glasshouse({
    songs: [
      {
        id: 'tide',
        title: 'Tide table',
        parts: [{ id: 'lead', player: 'keys', lamps: ['fern', 'moss'], strategy: { kind: 'lowest-free' } }],
      },
      {
        id: 'dew',
        title: 'Dew point',
        parts: [
          {
            id: 'lead',
            player: 'keys',
            lamps: ['sedge', 'reed'],
            strategy: { kind: 'travel', move: { everyMs: 10 } },
          },
        ],
      },
    ],
  }),
)

test('a change of song darkens the old song, and the new one plays by its own strategy', () => {
  const run = new GraphRun(SHOW)
  run.graph.play('keys', on(60), 1000)
  run.graph.changeSong('dew', 2000)
  expect(run.litLamps()).toEqual([])
  run.graph.play('keys', off(60), 3000)
  run.graph.play('keys', on(62), 4000)
  run.graph.advance(4000)
  expect(run.litLamps()).toEqual(['sedge'])
  run.graph.advance(14_000)
  expect(run.litLamps()).toEqual(['reed'])
})

test('the old song is over: its wakes do not come any more', () => {
  const run = new GraphRun(SHOW)
  run.graph.changeSong('dew', 0)
  run.graph.play('keys', on(60), 1000)
  run.graph.changeSong('tide', 2000)
  expect(run.graph.nextDue).toBe(Infinity)
  expect(() => run.graph.changeSong('none', 3000)).toThrow(/Unknown song "none"/)
})

test('a graph put down in the second song is taken up in it', () => {
  const run = new GraphRun(SHOW)
  run.graph.changeSong('dew', 500)
  run.graph.play('keys', on(62), 1000)
  run.putDown()
  run.graph.advance(11_000)
  expect(run.graph.song).toBe('dew')
  expect(run.litLamps()).toEqual(['reed'])
})
