import { expect, test } from 'vitest'
import { cc, off, on } from '../../support/midi-messages.ts'
import { playKeys } from '../../support/players.ts'

// MIDI 1.0 Detailed Specification: 64 is sustain, 66 sostenuto; switches are off at 0..63 and on at 64..127.

test.each([
  [0, false],
  [63, false],
  [64, true],
  [127, true],
])('sustain at %i holds: %s', (value, holds) => {
  const run = playKeys()
  run.at(0, cc(64, value))
  run.at(1, on(60))
  expect(run.at(2, off(60))).toEqual([{ kind: holds ? 'note-release' : 'note-off', note: 1 }])
})

test('sustain holds notes struck before and after it, until it is lifted; keys still down sound on', () => {
  const run = playKeys()
  run.at(0, on(60))
  run.at(1, cc(64, 100))
  run.at(2, on(64))
  run.at(3, on(67))
  run.at(4, off(60))
  run.at(5, off(64))
  expect(run.at(6, cc(64, 63))).toEqual([
    { kind: 'note-off', note: 1 },
    { kind: 'note-off', note: 2 },
    { kind: 'controller', channel: 1, controller: 64, value: 63 },
  ])
  expect(run.at(7, off(67))).toEqual([{ kind: 'note-off', note: 3 }])
})

test('sostenuto catches only keys that are down when it is pressed', () => {
  const run = playKeys()
  run.at(0, on(48))
  run.at(1, cc(66, 127))
  run.at(2, on(60))
  expect(run.at(3, off(60))).toEqual([{ kind: 'note-off', note: 2 }])
  expect(run.at(4, off(48))).toEqual([{ kind: 'note-release', note: 1 }])
  // Said again, it catches nothing more.
  run.at(5, on(62))
  run.at(6, cc(66, 90))
  expect(run.at(7, off(62))).toEqual([{ kind: 'note-off', note: 3 }])
  expect(run.at(8, cc(66, 0))).toMatchObject([{ kind: 'note-off', note: 1 }, { kind: 'controller' }])
})

test('a released note that only sustain holds is not caught', () => {
  const run = playKeys()
  run.at(0, cc(64, 127))
  run.at(1, on(48))
  run.at(2, off(48))
  run.at(3, cc(66, 127))
  expect(run.at(4, cc(64, 0))).toMatchObject([{ kind: 'note-off', note: 1 }, { kind: 'controller' }])
})

test('a caught key struck again stays caught: its damper is up', () => {
  const run = playKeys()
  run.at(0, on(48))
  run.at(1, cc(66, 127))
  run.at(2, off(48))
  run.at(3, on(48))
  expect(run.at(4, off(48))).toEqual([{ kind: 'note-release', note: 2 }])
  expect(run.at(5, cc(66, 0))).toMatchObject([{ kind: 'note-off', note: 2 }, { kind: 'controller' }])
})

test('a caught note that sustain holds too ends with the last of the two pedals', () => {
  const run = playKeys()
  run.at(0, on(48))
  run.at(1, cc(66, 127))
  run.at(2, cc(64, 127))
  run.at(3, off(48))
  expect(run.at(4, cc(66, 0))).toMatchObject([{ kind: 'controller' }])
  expect(run.at(5, cc(64, 0))).toMatchObject([{ kind: 'note-off', note: 1 }, { kind: 'controller' }])
})

test('a pedal holds only its own channel', () => {
  const run = playKeys()
  run.at(0, cc(64, 127, 2))
  run.at(1, on(60, 100, 1))
  run.at(2, on(60, 100, 2))
  expect(run.at(3, off(60, 1))).toEqual([{ kind: 'note-off', note: 1 }])
  expect(run.at(4, off(60, 2))).toEqual([{ kind: 'note-release', note: 2 }])
})
