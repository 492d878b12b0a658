import { expect, test } from 'vitest'
import { bend, bendRange } from '../../support/midi-messages.ts'
import { playKeys } from '../../support/players.ts'

// MIDI 1.0 Detailed Specification: bend 0..16383, centre 8192; RPN 0: upper 7 bits semitones, lower 7 bits cents.

test('the range of the show holds until RPN 0 names one', () => {
  const run = playKeys({ bendRange: 2 })
  expect(run.at(0, bend(12288))).toEqual([{ kind: 'bend', channel: 1, cents: 100 }])
  expect(run.at(1, bend(0))).toEqual([{ kind: 'bend', channel: 1, cents: -200 }])
  expect(run.at(2, bend(8192))).toEqual([{ kind: 'bend', channel: 1, cents: 0 }])
})

test.each([
  [2, 0, -200],
  [12, 0, -1200],
  [0, 50, -50],
  [7, 25, -725],
  [0, 0, 0],
])('RPN 0 of %i semitones and %i cents: a full bend down is %i cents', (semitones, cents, down) => {
  const run = playKeys({ bendRange: 5 })
  run.at(0, bendRange(semitones, cents))
  run.at(1, bend(0))
  const [last] = run.said.filter(({ out }) => out.kind === 'bend').slice(-1)
  expect(last?.out ?? { kind: 'bend', channel: 1, cents: 0 }).toEqual({
    kind: 'bend',
    channel: 1,
    cents: down,
  })
})

test('a new range moves the pitch of a bender that is not in the middle, on its channel only', () => {
  const run = playKeys({ bendRange: 2 })
  run.at(0, bend(0, 1))
  expect(run.at(1, bendRange(12, 0, 1))).toEqual([{ kind: 'bend', channel: 1, cents: -1200 }])
  expect(run.at(2, bend(0, 2))).toEqual([{ kind: 'bend', channel: 2, cents: -200 }])
})

test('another registered parameter, or a non-registered 0, changes nothing', () => {
  const run = playKeys({ bendRange: 2 })
  run.at(0, { type: 'parameter', registered: true, channel: 1, parameter: 1, value: 12 * 128 })
  run.at(1, { type: 'parameter', registered: false, channel: 1, parameter: 0, value: 12 * 128 })
  expect(run.at(2, bend(0))).toEqual([{ kind: 'bend', channel: 1, cents: -200 }])
})
