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

function rekeyed(key: number): PlayerEvent {
  return { kind: 'note-rekey', note: 1, key }
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
    expect(run.at(2, { kind: 'note-rekey', note: 1, key: 84 })).toEqual([])
    expect(run.at(3, { kind: 'note-off', note: 1 })).toEqual([])
    expect(run.at(4, { kind: 'note-rekey', note: 1, key: 60 })).toEqual([])
  })

  test('a note that comes into the range is taken as if it were struck there', () => {
    const run = play({ notes: [48, 60], transpose: 2, duty: { base: 0.5, low: 0, high: 1, velocity: true } })
    run.at(0, struck(1, 40, 127))
    expect(run.at(1, { kind: 'note-rekey', note: 1, key: 52, heldBack: 20_000 })).toEqual([
      { kind: 'note-on', note: { id: 1, key: 54, channel: 1, velocity: 127, duty: 1 } },
    ])
    expect(run.at(2, { kind: 'note-off', note: 1 })).toEqual([{ kind: 'note-off', id: 1 }])
  })

  test('a note that leaves the range ends for the part, and may come back', () => {
    const run = play({ notes: [48, 60] })
    run.at(0, struck(1, 52))
    expect(run.at(1, { kind: 'note-rekey', note: 1, key: 64 })).toEqual([{ kind: 'note-off', id: 1 }])
    expect(run.at(2, { kind: 'note-release', note: 1 })).toEqual([])
    expect(run.at(3, { kind: 'note-rekey', note: 1, key: 52 })).toMatchObject([{ kind: 'note-on' }])
    expect(run.at(4, { kind: 'note-rekey', note: 1, key: 50 })).toEqual([
      { kind: 'note-rekey', id: 1, key: 50 },
    ])
    expect(run.at(5, { kind: 'note-off', note: 1 })).toEqual([{ kind: 'note-off', id: 1 }])
    expect(run.at(6, { kind: 'note-off', note: 1 })).toEqual([])
  })

  test('of two parts side by side one has the note, whatever key it comes to', () => {
    const low = play({ notes: [0, 47] })
    const high = play({ notes: [48, 127] })
    let sounding = 0
    for (const event of [struck(1, 52), rekeyed(40), rekeyed(52), rekeyed(47), rekeyed(48), rekeyed(28)]) {
      for (const out of [low.at(0, event), high.at(0, event)].flat())
        sounding += out.kind === 'note-on' ? 1 : out.kind === 'note-off' ? -1 : 0
      expect(sounding).toBe(1)
    }
  })

  test('that it is another note of the same voice is told on', () => {
    const run = play({ notes: [48, 60] })
    run.at(0, struck(1, 52))
    expect(run.at(1, { kind: 'note-rekey', note: 1, key: 55, legato: true, heldBack: 5 })).toEqual([
      { kind: 'note-rekey', id: 1, key: 55, legato: true },
    ])
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
