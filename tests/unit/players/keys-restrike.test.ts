import { expect, test } from 'vitest'
import { cc, off, on } from '../../support/midi-messages.ts'
import { playKeys } from '../../support/players.ts'

test('a key struck again without an end ends its first strike, and one note-off ends the second', () => {
  const run = playKeys()
  run.at(0, on(60, 40))
  expect(run.at(1, on(60, 90))).toEqual([
    { kind: 'note-off', note: 1 },
    { kind: 'note-on', note: 2, key: 60, channel: 1, velocity: 90 },
  ])
  expect(run.at(2, off(60))).toEqual([{ kind: 'note-off', note: 2 }])
  expect(run.at(3, off(60))).toEqual([])
})

test('a key struck again under the pedal too', () => {
  const run = playKeys()
  run.at(0, cc(64, 127))
  run.at(1, on(60))
  expect(run.at(2, off(60))).toEqual([{ kind: 'note-release', note: 1 }])
  expect(run.at(3, on(60))).toMatchObject([
    { kind: 'note-off', note: 1 },
    { kind: 'note-on', note: 2 },
  ])
  expect(run.at(4, off(60))).toEqual([{ kind: 'note-release', note: 2 }])
  expect(run.at(5, cc(64, 0))).toMatchObject([{ kind: 'note-off', note: 2 }, { kind: 'controller' }])
})
