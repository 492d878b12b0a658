import { describe, expect, test } from 'vitest'
import type { PlayerEvent } from '../../../src/domain/player-event.ts'
import type { Part } from '../../../src/domain/song.ts'
import { part } from '../../../src/players/part.ts'
import { StageRun } from '../../support/stage-run.ts'

const LEAD: Part = {
  id: 'lead',
  player: 'keys',
  lamps: ['fern'],
  strategy: { kind: 'unison' },
  transpose: 0,
  notes: [0, 127],
  duty: { base: 0.5, low: 0.1, high: 0.9 },
  onLost: 'move',
  gapMs: 0,
}

function play(more: Partial<Part>) {
  return new StageRun(part, { ...LEAD, ...more })
}

function struck(note: number, key: number, velocity = 100): PlayerEvent {
  return { kind: 'note-on', note, key, channel: 1, velocity }
}

describe('range', () => {
  test.each([
    [47, 0],
    [48, 1],
    [60, 1],
    [61, 0],
  ])('keys 48 to 60: key %i gives %i note', (key, notes) => {
    expect(play({ notes: [48, 60] }).at(0, struck(1, key)).length).toBe(notes)
  })

  test('the ends of a note that the part did not take are not its business', () => {
    const run = play({ notes: [48, 60] })
    run.at(0, struck(1, 72))
    expect(run.at(1, { kind: 'note-release', note: 1 })).toEqual([])
    expect(run.at(2, { kind: 'note-rekey', note: 1, key: 60 })).toEqual([])
    expect(run.at(3, { kind: 'note-off', note: 1 })).toEqual([])
  })

  test('a note that it took stays its own to the end, also on another key', () => {
    const run = play({ notes: [48, 60] })
    run.at(0, struck(1, 50))
    expect(run.at(1, { kind: 'note-rekey', note: 1, key: 62 })).toEqual([
      { kind: 'note-rekey', id: 1, key: 62 },
    ])
    expect(run.at(2, { kind: 'note-release', note: 1 })).toEqual([{ kind: 'note-release', id: 1 }])
    expect(run.at(3, { kind: 'note-off', note: 1 })).toEqual([{ kind: 'note-off', id: 1 }])
    expect(run.at(4, { kind: 'note-off', note: 1 })).toEqual([])
  })
})

test('transposing moves keys after the range was looked at, also beyond 127, and new keys of a note alike', () => {
  const run = play({ notes: [0, 127], transpose: 24 })
  expect(run.at(0, struck(1, 120))).toMatchObject([{ kind: 'note-on', note: { id: 1, key: 144 } }])
  expect(run.at(1, { kind: 'note-rekey', note: 1, key: 108 })).toMatchObject([{ key: 132 }])
})

describe('duty', () => {
  test('without a source a note carries none: the base holds', () => {
    expect(play({}).at(0, struck(1, 60))).toEqual([
      { kind: 'note-on', note: { id: 1, key: 60, channel: 1, velocity: 100 } },
    ])
  })

  test.each([
    [0, 0.1],
    [127, 0.9],
    [63.5, 0.5],
  ])('controller value %d gives %d', (value, duty) => {
    const run = play({ duty: { base: 0.5, controller: 74, low: 0.1, high: 0.9 } })
    const [said] = run.at(0, { kind: 'controller', channel: 1, controller: 74, value })
    expect(said?.kind === 'duty' ? said.duty : undefined).toBeCloseTo(duty, 12)
  })

  test('another controller is not heard', () => {
    const run = play({ duty: { base: 0.5, controller: 74, low: 0.1, high: 0.9 } })
    expect(run.at(0, { kind: 'controller', channel: 1, controller: 71, value: 5 })).toEqual([])
    expect(play({}).at(0, { kind: 'controller', channel: 1, controller: 74, value: 5 })).toEqual([])
  })

  test.each([
    [1, 0.1 + 0.8 / 127],
    [127, 0.9],
  ])('velocity %i gives %d, on the note itself', (velocity, duty) => {
    const run = play({ duty: { base: 0.5, velocity: true, low: 0.1, high: 0.9 } })
    const [said] = run.at(0, struck(1, 60, velocity))
    expect(said?.kind === 'note-on' ? said.note.duty : undefined).toBeCloseTo(duty, 12)
  })
})

test('bends pass; dropped hits do not', () => {
  const run = play({})
  expect(run.at(0, { kind: 'bend', channel: 2, cents: 30 })).toEqual([
    { kind: 'bend', channel: 2, cents: 30 },
  ])
  expect(run.at(1, { kind: 'dropped', key: 38, channel: 10, why: 'mask' })).toEqual([])
})

test('all-off passes even with nothing sounding, and forgets the notes', () => {
  const run = play({})
  expect(run.at(0, { kind: 'all-off' })).toEqual([{ kind: 'all-off' }])
  run.at(1, struck(1, 60))
  run.at(2, { kind: 'all-off' })
  expect(run.at(3, { kind: 'note-off', note: 1 })).toEqual([])
})
