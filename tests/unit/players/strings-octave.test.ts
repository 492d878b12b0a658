import { expect, test } from 'vitest'
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
    { at: 5 * ms, out: { kind: 'note-on', note: 1, key: 40, channel: 1, velocity: 100 } },
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
  const run = playStrings({ minNoteMs: 5, octaveGuardMs: 40 })
  run.at(0, on(40))
  run.at(40 * ms, on(52))
  run.runOut()
  expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on', 'note-off', 'note-on'])
})

test('another interval within the guard is a new note', () => {
  const run = playStrings({ minNoteMs: 5, octaveGuardMs: 40 })
  run.at(0, on(40))
  run.at(20 * ms, on(47))
  run.runOut()
  expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on', 'note-off', 'note-on'])
})
