import { expect, test } from 'vitest'
import { cc, off, on } from '../../support/midi-messages.ts'
import { playPads } from '../../support/players.ts'

const ms = 1000

test('a hit lasts one gate, whatever note-off the pad sends', () => {
  const run = playPads({ gateMs: 120 })
  run.at(0, on(38))
  expect(run.at(2 * ms, off(38))).toEqual([])
  expect(run.runOut()).toEqual([{ at: 120 * ms, out: { kind: 'note-off', note: 1 } }])
  expect(run.wakeAt).toBeUndefined()
})

test('a hit within the gate ends the one before and has a whole gate of its own', () => {
  const run = playPads({ gateMs: 120 })
  run.at(0, on(38))
  expect(run.at(50 * ms, on(38))).toMatchObject([
    { kind: 'note-off', note: 1 },
    { kind: 'note-on', note: 2 },
  ])
  expect(run.runOut()).toEqual([{ at: 170 * ms, out: { kind: 'note-off', note: 2 } }])
})

test('a hit at the very end of a gate: the end comes first', () => {
  const run = playPads({ gateMs: 120 })
  run.at(0, on(38))
  expect(run.at(120 * ms, on(38))).toMatchObject([
    { kind: 'note-off', note: 1 },
    { kind: 'note-on', note: 2 },
  ])
})

test('a dropped bounce does not shorten or lengthen the gate', () => {
  const run = playPads({ gateMs: 120 })
  run.at(0, on(38))
  run.at(5 * ms, on(38))
  expect(run.runOut()).toEqual([{ at: 120 * ms, out: { kind: 'note-off', note: 1 } }])
})

test('gates of several pads end each in its time', () => {
  const run = playPads({ gateMs: 100 })
  run.at(0, on(36))
  run.at(30 * ms, on(38))
  expect(run.runOut().map(({ at }) => at)).toEqual([100 * ms, 130 * ms])
})

test('the shortest gate there is still ends after it began', () => {
  const run = playPads({ gateMs: 0.0001 })
  run.at(0, on(38))
  expect(run.runOut()).toEqual([{ at: 1, out: { kind: 'note-off', note: 1 } }])
})

test('all sound off ends the open gates of its channel only', () => {
  const run = playPads()
  run.at(0, on(38, 100, 10))
  run.at(0, on(38, 100, 1))
  expect(run.at(1, cc(120, 0, 10))).toEqual([{ kind: 'note-off', note: 1 }])
  expect(run.at(2, { kind: 'all-off' })).toEqual([{ kind: 'all-off' }])
  expect(run.runOut()).toEqual([])
})
