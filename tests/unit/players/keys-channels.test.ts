import { expect, test } from 'vitest'
import { bend, cc, off, on } from '../../support/midi-messages.ts'
import { playKeys } from '../../support/players.ts'

test('only the channels of the player are heard', () => {
  const run = playKeys({ input: { port: 'Keybed', channels: [2] } })
  for (const message of [on(60), off(60), cc(74, 10), bend(0), cc(120, 0)])
    expect(run.at(0, message)).toEqual([])
  expect(run.at(1, on(60, 77, 2))).toEqual([{ kind: 'note-on', note: 1, key: 60, channel: 2, velocity: 77 }])
})

test('the same key on two channels is two notes, each ended by its own channel', () => {
  const run = playKeys()
  run.at(0, on(60, 50, 1))
  run.at(1, on(60, 60, 2))
  expect(run.at(2, off(60, 2))).toEqual([{ kind: 'note-off', note: 2 }])
  expect(run.at(3, off(60, 1))).toEqual([{ kind: 'note-off', note: 1 }])
})

test('a controller other than a pedal or a mode message passes as it is', () => {
  expect(playKeys().at(0, cc(74, 33, 2))).toEqual([
    { kind: 'controller', channel: 2, controller: 74, value: 33 },
  ])
})
