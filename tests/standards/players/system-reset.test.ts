import { expect, test } from 'vitest'
import { bend, bendRange, cc, off, on } from '../../support/midi-messages.ts'
import { playKeys, playPads, playStrings } from '../../support/players.ts'

// MIDI 1.0 Detailed Specification: system reset (FF) puts a receiver back to what it is after power-up.

const RESET = { type: 'reset' } as const

test('keys: notes end, pedals are up, the bend is centred and its range is the show’s again', () => {
  const run = playKeys({ bendRange: 2 })
  run.at(0, bendRange(12))
  run.at(1, bend(0))
  run.at(2, cc(64, 127))
  run.at(3, on(60))
  expect(run.at(4, RESET)).toEqual([{ kind: 'all-off' }, { kind: 'bend', channel: 1, cents: 0 }])
  run.at(5, on(60))
  expect(run.at(6, off(60))).toEqual([{ kind: 'note-off', note: 2 }])
  expect(run.at(7, bend(0))).toEqual([{ kind: 'bend', channel: 1, cents: -200 }])
})

test('keys: active sensing is heard of no more', () => {
  const run = playKeys()
  run.at(0, { type: 'active-sensing' })
  run.at(1, RESET)
  expect(run.wakeAt).toBeUndefined()
})

test('pads: open gates end', () => {
  const run = playPads()
  run.at(0, on(38))
  expect(run.at(1, RESET)).toEqual([{ kind: 'all-off' }])
  expect(run.runOut()).toEqual([])
})

test('strings: notes end, undecided ones are dropped', () => {
  const run = playStrings()
  run.at(0, on(40))
  run.at(25_000, on(45, 80, 2))
  expect(run.at(26_000, RESET)).toEqual([
    { kind: 'dropped', key: 45, channel: 2, why: 'ghost' },
    { kind: 'all-off' },
  ])
  expect(run.runOut()).toEqual([])
})
