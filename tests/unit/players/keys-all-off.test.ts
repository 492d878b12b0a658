import { expect, test } from 'vitest'
import { bend, bendRange, cc, off, on } from '../../support/midi-messages.ts'
import { playKeys } from '../../support/players.ts'

test('all-off ends held and pedalled notes, lifts the pedals and centres the bend', () => {
  const run = playKeys()
  run.at(0, cc(64, 127))
  run.at(1, bend(0))
  run.at(2, on(60))
  expect(run.at(3, { kind: 'all-off' })).toEqual([
    { kind: 'all-off' },
    { kind: 'bend', channel: 1, cents: 0 },
  ])
  expect(run.at(4, off(60))).toEqual([])
  run.at(5, on(62))
  expect(run.at(6, off(62))).toEqual([{ kind: 'note-off', note: 2 }])
})

test('the bend range that the instrument named outlasts all-off: it names it only once', () => {
  const run = playKeys()
  run.at(0, bendRange(12))
  run.at(1, { kind: 'all-off' })
  expect(run.at(2, bend(0))).toEqual([{ kind: 'bend', channel: 1, cents: -1200 }])
})
