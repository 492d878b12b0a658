import { expect, test } from 'vitest'
import { createPlayView } from '../../../app/cli/play-view.ts'
import type { FromEngine } from '../../../src/contract/from-engine.ts'

const v = 1

test('what happened is a line; what changes all the time is not', () => {
  const view = createPlayView()
  const said: FromEngine[] = [
    { v, type: 'loaded', title: 'Glasshouse', song: 'tide', position: 0, songs: ['tide', 'dew'] },
    { v, type: 'song', song: 'dew', position: 1 },
    {
      v,
      type: 'port',
      port: { id: 'keys', kind: 'midi-in', name: 'Keybed', state: 'lost', message: 'Keybed is gone' },
    },
    {
      v,
      type: 'diagnostic',
      at: 1,
      diagnostic: { level: 'warning', source: 'wire', code: 'x', message: 'the box differs' },
    },
    { v, type: 'dark' },
    { v, type: 'stopped', clean: false },
  ]
  expect(said.map((message) => view.line(message))).toEqual([
    'Glasshouse: song tide; ready',
    'song dew',
    'keys: Keybed is gone',
    'warning: wire: the box differs',
    'all dark',
    'stopped, but not every off is known to have left',
  ])
  expect(view.line({ v, type: 'lamps', at: 1, lamps: [] })).toBeUndefined()
  expect(view.line({ v, type: 'alive', count: 1 })).toBeUndefined()
})

test('how things stand: song, every lamp, figures, and what is amiss', () => {
  const view = createPlayView()
  view.line({ v, type: 'loaded', title: 'Glasshouse', song: 'tide', position: 0, songs: ['tide'] })
  view.line({
    v,
    type: 'port',
    port: { id: 'bass', kind: 'midi-in', name: 'Bass', state: 'missing', message: 'plug it in' },
  })
  view.line({
    v,
    type: 'port',
    port: { id: 'wire', kind: 'serial', name: 'x', state: 'ready', message: 'answers' },
  })
  view.line({
    v,
    type: 'lamps',
    at: 1,
    lamps: [
      {
        lamp: 'fern',
        on: true,
        part: 'lead',
        player: 'keys',
        key: 69,
        hz: 440,
        realHz: 439.9956,
        cents: -0.0173,
        duty: 0.25,
      },
      { lamp: 'moss', on: false },
    ],
  })
  const spread = { count: 2, p50: 100, p95: 200, p99: 1500, max: 2000 }
  view.line({
    v,
    type: 'figures',
    at: 1,
    latency: spread,
    latencyBins: [],
    lateness: spread,
    counts: { steals: 3 },
  })
  const standing = view.standing()
  expect(standing[0]).toContain('Glasshouse / tide')
  expect(standing[1]).toBe('fern           |||||                A4      440.00 Hz -0.02 c  lead')
  expect(standing[2]).toBe('moss           .')
  expect(standing[3]).toBe('latency p50 0.10 ms p99 1.50 ms max 2.00 ms, late wakes p99 1.50 ms, steals 3')
  expect(standing.slice(4)).toEqual(['! bass: plug it in'])
})
