import { expect, test } from 'vitest'
import { bend, bendRange, cc, off, on } from '../../support/midi-messages.ts'
import { playKeys } from '../../support/players.ts'

// MIDI 1.0 Detailed Specification, channel mode messages 120..127.

/** Key 60 held, key 64 pedalled on channel 1; key 60 held on channel 2. */
function held() {
  const run = playKeys()
  run.at(0, on(60))
  run.at(1, on(64))
  run.at(2, cc(64, 127))
  run.at(3, off(64))
  run.at(4, on(60, 100, 2))
  return run
}

test('120, all sound off: held and pedalled notes of the channel end at once', () => {
  const run = held()
  expect(run.at(5, cc(120, 0))).toEqual([
    { kind: 'note-off', note: 1 },
    { kind: 'note-off', note: 2 },
  ])
  expect(run.at(6, off(60, 2))).toEqual([{ kind: 'note-off', note: 3 }])
})

test.each([123, 124, 125, 126, 127])('%i, all notes off: keys go up, the pedal still holds', (mode) => {
  const run = held()
  expect(run.at(5, cc(mode, 0))).toEqual([{ kind: 'note-release', note: 1 }])
  expect(run.at(6, cc(64, 0))).toMatchObject([
    { kind: 'note-off', note: 1 },
    { kind: 'note-off', note: 2 },
    { kind: 'controller' },
  ])
})

test.each([123, 124, 125, 126, 127])('%i without a pedal ends the notes', (mode) => {
  const run = playKeys()
  run.at(0, on(60))
  expect(run.at(1, cc(mode, 0))).toEqual([{ kind: 'note-off', note: 1 }])
})

test('121, reset all controllers: pedals up, bend centred, bend range kept', () => {
  const run = held()
  run.at(5, bendRange(12))
  run.at(6, bend(0))
  expect(run.at(7, cc(121, 0))).toEqual([
    { kind: 'note-off', note: 2 },
    { kind: 'bend', channel: 1, cents: 0 },
    // RP-015 (from memory): modulation 0, expression 127.
    { kind: 'controller', channel: 1, controller: 1, value: 0 },
    { kind: 'controller', channel: 1, controller: 11, value: 127 },
  ])
  expect(run.at(8, off(60))).toEqual([{ kind: 'note-off', note: 1 }])
  expect(run.at(9, bend(0))).toEqual([{ kind: 'bend', channel: 1, cents: -1200 }])
})

test('121 lifts the sostenuto pedal too', () => {
  const run = playKeys()
  run.at(0, on(60))
  run.at(1, cc(66, 127))
  run.at(2, off(60))
  expect(run.at(3, cc(121, 0))[0]).toEqual({ kind: 'note-off', note: 1 })
})

test('122, local control, is nothing to a receiver', () => {
  expect(held().at(5, cc(122, 0))).toMatchObject([{ kind: 'controller', controller: 122 }])
})
