import { expect, test } from 'vitest'
import { Graph } from '../../../src/graph/graph.ts'
import type { TapEvent } from '../../../src/graph/tap.ts'
import { validShow } from '../../support/valid-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { glasshouse } from '../../support/shows.ts'

const on = (key: number): number[] => [0x90, key, 100]

test('a timer that turns out to be another is gone by at once, by what sounds as well', () => {
  const run = new GraphRun(validShow(glasshouse()))
  run.graph.play('keys', on(69), 1000)
  run.graph.advance(1000)
  run.graph.setTimer('wire', { clockHz: 7_372_800, prescalers: [1, 8], bits: 16 }, 2000)
  const [fern] = run.graph.lamps
  // 7,372,800 / 16,756 (fast PWM formula, ATmega640/1280/2560 data sheet).
  expect(fern?.on && fern.realHz).toBeCloseTo(440.00955, 4)
  expect(fern?.on && fern.drive).toMatchObject({ prescaler: 1, top: 16755 })
  run.graph.play('keys', on(28), 3000)
  run.graph.advance(3000)
  const moss = run.graph.lamps[1]
  expect(moss?.on && moss.drive).toMatchObject({ prescaler: 8, top: 22366 })
})

test('an output that somebody else drives gets no bytes from the graph, and its frames go by as ever', () => {
  const graph = new Graph({ show: validShow(glasshouse()), song: 'tide', linked: new Set(['wire']) })
  const events: TapEvent[] = []
  graph.tap$.subscribe((event) => events.push(event))
  graph.open()
  graph.play('keys', on(69), 1000)
  graph.advance(1000)
  graph.darkAll(2000)
  expect(events.filter(({ kind }) => kind === 'bytes')).toEqual([])
  expect(events.filter(({ kind }) => kind === 'frame')).toHaveLength(2)
})

test('an output that comes back is greeted and told how its lamps stand', () => {
  const run = new GraphRun(validShow(glasshouse()))
  run.graph.play('keys', on(69), 1000)
  run.graph.advance(1000)
  run.events.length = 0
  run.graph.reopen('wire', 2000)
  const frames = run.of('bytes')
  expect(frames.length).toBe(2)
  expect(run.graph.lamps[0]?.on).toBe(true)
})

test('an output offset and a lamp delay hold lamps back by their sum', () => {
  const raw = glasshouse()
  const rig = raw.rig as { outputs: { offsetMs?: number }[]; lamps: { delayMs?: number }[] }
  Object.assign(rig.outputs[0] ?? {}, { offsetMs: 3 })
  Object.assign(rig.lamps[1] ?? {}, { delayMs: 2 })
  const run = new GraphRun(validShow(raw))
  run.graph.play('keys', [...on(60), ...on(64)], 1000)
  run.graph.advance(10_000)
  expect(run.of('frame').map(({ at, changes }) => `${at} ${changes.map(({ lamp }) => lamp).join()}`)).toEqual(
    ['4000 fern', '6000 moss'],
  )
})
