import { expect, test } from 'vitest'
import { centsBetween } from '../../../src/domain/pitch.ts'
import type { ResolveIn } from '../../../src/tuning/resolve.ts'
import { midiOutput } from '../../support/rig-outputs.ts'
import { lightOrder, litBy, resolvePart, runResolve } from '../../support/resolving.ts'

function bend(cents: number, channel = 1, part = 0): ResolveIn {
  return { kind: 'expression', part, expression: { kind: 'bend', channel, cents } }
}

test('a bend moves only its part’s lamps that sound a note of its channel, without a new strike', () => {
  const run = runResolve({}, undefined, [resolvePart(), resolvePart({ id: 'low' })])
  run.at(0, lightOrder(0, 1, { key: 69, channel: 1 }))
  run.at(0, lightOrder(1, 2, { key: 69, channel: 2 }))
  run.at(0, lightOrder(2, 3, { key: 69, channel: 1 }, true, 1))
  const bent = litBy(run.at(1, bend(100)))
  expect([...bent.keys()]).toEqual([0])
  expect(bent.get(0)).toMatchObject({ note: 1, strike: false })
  expect(centsBetween(bent.get(0)?.hz ?? 0, 440)).toBeCloseTo(100, 9)
})

test('a dark lamp stays dark; the next note on the channel is bent', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1, { key: 69 }))
  run.at(1, { kind: 'orders', orders: [{ kind: 'dark', lamp: 0 }] })
  expect(run.at(2, bend(-1200))).toEqual([])
  expect(litBy(run.at(3, lightOrder(0, 2, { key: 69 }))).get(0)?.hz).toBeCloseTo(220, 9)
})

test('the same bend again says nothing', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1))
  run.at(1, bend(50))
  expect(run.at(2, bend(50))).toEqual([])
})

test('a bend that leads out of a narrow lamp’s range is refused to the note that sounds', () => {
  const run = runResolve({ lowHz: 430, highHz: 450 })
  run.at(0, lightOrder(0, 6, { key: 69 }))
  expect(run.at(1, bend(200))).toEqual([{ kind: 'refused', lamp: 0, part: 0, note: 6, reason: 'range' }])
})

test('on MIDI a bend or legato note within the range keeps the sounding key; a strike takes the nearest', () => {
  const run = runResolve({}, midiOutput({ bendRange: 12 }))
  run.at(0, lightOrder(0, 1, { key: 69 }))
  expect(litBy(run.at(1, bend(250))).get(0)?.drive).toMatchObject({ kind: 'bend', key: 69 })
  run.at(2, bend(0))
  expect(litBy(run.at(3, lightOrder(0, 2, { key: 74 }, false))).get(0)?.drive).toMatchObject({ key: 69 })
  expect(litBy(run.at(4, lightOrder(0, 3, { key: 74 }))).get(0)?.drive).toMatchObject({ key: 74, bend: 8192 })
})

test('on MIDI a legato note that the bend does not reach takes its own key', () => {
  const run = runResolve({}, midiOutput({ bendRange: 2 }))
  run.at(0, lightOrder(0, 1, { key: 69 }))
  expect(litBy(run.at(1, lightOrder(0, 2, { key: 74 }, false))).get(0)?.drive).toMatchObject({ key: 74 })
})
