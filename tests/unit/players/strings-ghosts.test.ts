import { expect, test } from 'vitest'
import { cc, off, on } from '../../support/midi-messages.ts'
import { playStrings } from '../../support/players.ts'

const ms = 1000

test('a note shorter than minNoteMs never sounds, and is counted', () => {
  const run = playStrings({ minNoteMs: 20 })
  expect(run.at(0, on(40))).toEqual([])
  expect(run.at(18 * ms, off(40))).toEqual([])
  expect(run.runOut()).toEqual([{ at: 20 * ms, out: { kind: 'dropped', key: 40, channel: 1, why: 'ghost' } }])
})

test('a note that lasts begins when minNoteMs is over, as hard as it was struck', () => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(40, 77))
  expect(run.runOut()).toEqual([
    { at: 20 * ms, out: { kind: 'note-on', note: 1, key: 40, channel: 1, velocity: 77, heldBack: 20 * ms } },
  ])
})

test('one that ends at the very moment is a note', () => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(40))
  expect(run.at(20 * ms, off(40))).toMatchObject([{ kind: 'note-on' }])
  expect(run.runOut()).toEqual([{ at: 40 * ms, out: { kind: 'note-off', note: 1 } }])
})

test('minNoteMs 0 lets every note through at once', () => {
  const run = playStrings({ minNoteMs: 0, octaveGuardMs: 0 })
  expect(run.at(0, on(40))).toMatchObject([{ kind: 'note-on', note: 1 }])
  run.at(1 * ms, off(40))
  expect(run.runOut()).toMatchObject([{ out: { kind: 'note-off', note: 1 } }])
})

test('the same key again, before it is decided, is the same strike', () => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(40, 90))
  run.at(8 * ms, off(40))
  run.at(12 * ms, on(40, 30))
  expect(run.runOut()).toMatchObject([
    { at: 20 * ms, out: { kind: 'note-on', note: 1, velocity: 90 } },
    { at: 20 * ms, out: { kind: 'joined', note: 1 } },
  ])
})

test('the same key again soon after it began joins, without an end', () => {
  const run = playStrings({ minNoteMs: 20, octaveGuardMs: 40 })
  run.at(0, on(40))
  run.at(25 * ms, off(40))
  run.at(35 * ms, on(40))
  run.runOut()
  run.at(300 * ms, off(40))
  run.runOut()
  expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on', 'joined', 'note-off'])
})

test('a ghost that had two note-ons is counted as two', () => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(40))
  run.at(5 * ms, off(40))
  run.at(8 * ms, on(40))
  run.at(10 * ms, off(40))
  expect(run.runOut().map(({ out }) => out.kind)).toEqual(['dropped', 'dropped'])
})

test('a ghost within a sounding note leaves it alone', () => {
  const run = playStrings()
  run.at(0, on(40))
  run.at(100 * ms, on(47))
  run.at(105 * ms, off(47))
  run.wakeUpTo(200 * ms)
  expect(run.said.map(({ out }) => out.kind)).toEqual(['note-on', 'dropped'])
  run.at(200 * ms, off(40))
  expect(run.runOut()).toMatchObject([{ out: { kind: 'note-off', note: 1 } }])
})

test('all sound off ends notes and drops undecided ones, on its channel only', () => {
  const run = playStrings()
  run.at(0, on(40, 100, 1))
  run.at(0, on(45, 100, 2))
  run.at(30 * ms, on(47, 100, 1))
  expect(run.at(31 * ms, cc(120, 0, 1))).toEqual([
    { kind: 'note-off', note: 1 },
    { kind: 'dropped', key: 47, channel: 1, why: 'ghost' },
  ])
  expect(run.runOut()).toEqual([])
})

test('all notes off ends what sounds and what comes to nothing', () => {
  const run = playStrings()
  run.at(0, on(40))
  run.at(100 * ms, on(47))
  run.at(101 * ms, cc(123, 0))
  expect(run.runOut().map(({ out }) => out.kind)).toEqual(['dropped', 'note-off'])
  expect(run.wakeAt).toBeUndefined()
})

test('a correction in one burst with an end just before minNoteMs is over is the same strike', () => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(52))
  run.at(19.5 * ms, off(52))
  expect(run.at(20.5 * ms, on(40))).toEqual([
    { kind: 'note-on', note: 1, key: 40, channel: 1, velocity: 100, heldBack: 20.5 * ms },
    { kind: 'joined', note: 1, key: 40, channel: 1 },
  ])
})

test('one that ends as late as that is a ghost two milliseconds later', () => {
  const run = playStrings({ minNoteMs: 20 })
  run.at(0, on(52))
  run.at(19.5 * ms, off(52))
  expect(run.runOut()).toMatchObject([{ at: 21.5 * ms, out: { kind: 'dropped' } }])
})
