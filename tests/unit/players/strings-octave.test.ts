import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { off, on } from '../../support/midi-messages.ts'
import { playStrings } from '../../support/players.ts'

const ms = 1000

test('an octave jump and return within octaveGuardMs are new keys of one strike', () => {
  const run = playStrings({ minNoteMs: 5, octaveGuardMs: 40 })
  run.at(0, on(40))
  run.at(10 * ms, off(40))
  run.at(10 * ms, on(52))
  run.at(25 * ms, off(52))
  run.at(26 * ms, on(40))
  run.at(500 * ms, off(40))
  run.runOut()
  expect(run.said).toEqual([
    { at: 5 * ms, out: { kind: 'note-on', note: 1, key: 40, channel: 1, velocity: 100, heldBack: 5 * ms } },
    { at: 10 * ms, out: { kind: 'note-rekey', note: 1, key: 52 } },
    { at: 10 * ms, out: { kind: 'joined', note: 1, key: 52, channel: 1 } },
    { at: 26 * ms, out: { kind: 'note-rekey', note: 1, key: 40 } },
    { at: 26 * ms, out: { kind: 'joined', note: 1, key: 40, channel: 1 } },
    { at: 502 * ms, out: { kind: 'note-off', note: 1 } },
  ])
})

test('the converter may say the new octave before it ends the old', () => {
  const run = playStrings({ minNoteMs: 5, octaveGuardMs: 40 })
  run.at(0, on(40))
  expect(run.at(20 * ms, on(52))).toContainEqual({ kind: 'note-rekey', note: 1, key: 52 })
  run.at(21 * ms, off(40))
  run.wakeUpTo(400 * ms)
  run.at(400 * ms, off(52))
  expect(run.runOut().map(({ out }) => out)).toEqual([{ kind: 'note-off', note: 1 }])
})

test('before the note is decided the key changes unheard', () => {
  const run = playStrings({ minNoteMs: 20, octaveGuardMs: 40 })
  run.at(0, on(52))
  run.at(10 * ms, off(52))
  run.at(10 * ms, on(40))
  expect(run.runOut().map(({ out }) => out)).toMatchObject([
    { kind: 'note-on', note: 1, key: 40 },
    { kind: 'joined', note: 1, key: 40 },
  ])
})

test('an octave later than the guard is a new note', () => {
  const run = playStrings({ minNoteMs: 5, octaveGuardMs: 40, legato: false })
  run.at(0, on(40))
  run.at(40 * ms, on(52))
  run.runOut()
  expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on', 'note-off', 'note-on'])
})

test('another interval within the guard is a new note', () => {
  const run = playStrings({ minNoteMs: 5, octaveGuardMs: 40, legato: false })
  run.at(0, on(40))
  run.at(20 * ms, on(47))
  run.runOut()
  expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on', 'note-off', 'note-on'])
})

describe('a leap from a note that has sounded for long, and the return', () => {
  const leap: [string, number, [number, MidiMessage][]][] = [
    [
      'the new key is said first',
      512,
      [
        [500, on(52)],
        [501, off(40)],
        [512, on(40)],
        [513, off(52)],
      ],
    ],
    [
      'the old key ends first',
      513,
      [
        [500, off(40)],
        [501, on(52)],
        [512, off(52)],
        [513, on(40)],
      ],
    ],
  ]
  const input = { port: 'Bass', channels: [1] }

  test.each(leap)('before it is decided is not heard at all: %s', (_, returns, messages) => {
    for (const more of [{}, { legato: false }, { input }]) {
      const run = playStrings({ minNoteMs: 20, octaveGuardMs: 40, ...more })
      run.at(0, on(40))
      for (const [at, message] of messages) run.at(at * ms, message)
      run.wakeUpTo(900 * ms)
      run.at(900 * ms, off(40))
      run.runOut()
      expect(run.said.map(({ at, out }) => [at / ms, out.kind])).toEqual([
        [20, 'note-on'],
        [returns, 'joined'],
        [returns, 'joined'],
        [902, 'note-off'],
      ])
    }
  })

  test('after it was decided it goes back at once, within octaveGuardMs of the leap', () => {
    const run = playStrings({ minNoteMs: 20, octaveGuardMs: 40 })
    run.at(0, on(40))
    run.at(500 * ms, on(52))
    run.at(530 * ms, on(40))
    expect(run.said.slice(1).map(({ at, out }) => [at / ms, out.kind])).toEqual([
      [520, 'note-rekey'],
      [520, 'joined'],
      [530, 'note-rekey'],
      [530, 'joined'],
    ])
  })
})

test('all strings on one channel, the new octave said before the old one ends: one strike', () => {
  const run = playStrings({ input: { port: 'Bass', channels: [1] }, minNoteMs: 5 })
  run.at(0, on(52))
  run.at(28 * ms, on(40))
  expect(run.at(29 * ms, off(52))).toEqual([
    { kind: 'note-rekey', note: 1, key: 40 },
    { kind: 'joined', note: 1, key: 40, channel: 1 },
  ])
  run.wakeUpTo(300 * ms)
  run.at(300 * ms, off(40))
  expect(run.runOut().map(({ out }) => out)).toEqual([{ kind: 'note-off', note: 1 }])
})
