import { expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { off, on } from '../../support/midi-messages.ts'
import { playStrings } from '../../support/players.ts'

const ms = 1000

test.each<[string, [number, MidiMessage][]]>([
  [
    'on before off',
    [
      [200, on(43)],
      [203, off(40)],
    ],
  ],
  [
    'off before on, in one burst',
    [
      [200, off(40)],
      [201, on(43)],
    ],
  ],
  [
    'off and on at one time',
    [
      [200, off(40)],
      [200, on(43)],
    ],
  ],
  ['on alone, the string has only one note', [[200, on(43)]]],
])('legato (%s): the old note ends when the new one is known, at the same time', (_, change) => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(40))
  for (const [at, message] of change) run.at(at * ms, message)
  const [ends, begins] = run.runOut()
  expect(ends?.out).toEqual({ kind: 'note-off', note: 1 })
  expect(begins?.out).toMatchObject({ kind: 'note-on', note: 2, key: 43 })
  expect(ends?.at).toBe(begins?.at)
})

test('a note that nothing follows ends as soon as that is known: two milliseconds', () => {
  const run = playStrings()
  run.at(0, on(40))
  run.at(200 * ms, off(40))
  expect(run.runOut()).toEqual([{ at: 202 * ms, out: { kind: 'note-off', note: 1 } }])
})

test('where the new note was a ghost, the old one ends with it', () => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(40))
  run.at(200 * ms, on(43))
  run.at(205 * ms, off(40))
  run.at(206 * ms, off(43))
  expect(run.runOut()).toEqual([
    { at: 220 * ms, out: { kind: 'dropped', key: 43, channel: 1, why: 'ghost' } },
    { at: 220 * ms, out: { kind: 'note-off', note: 1 } },
  ])
})

test('a run of undecided notes keeps the old one until the last of them is decided', () => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(40))
  run.at(200 * ms, off(40))
  run.at(201 * ms, on(43))
  run.at(211 * ms, on(45))
  run.at(212 * ms, off(43))
  expect(run.runOut().map(({ at, out }) => [at / ms, out.kind])).toEqual([
    [231, 'note-off'],
    [231, 'note-on'],
  ])
})
