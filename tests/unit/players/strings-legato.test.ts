import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { bend, off, on } from '../../support/midi-messages.ts'
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
])('struck anew (%s): the old note ends when the new one is known, at the same time', (_, change) => {
  const run = playStrings({ minNoteMs: 20, legato: false })
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

describe('legato', () => {
  test.each<[string, [number, MidiMessage][]]>([
    [
      'on before off',
      [
        [200, on(43, 30)],
        [203, off(40)],
      ],
    ],
    [
      'off and on at one time',
      [
        [200, off(40)],
        [200, on(43, 30)],
      ],
    ],
    ['on alone', [[200, on(43, 30)]]],
  ])('%s: the voice goes on as another key, once that is known', (_, change) => {
    const run = playStrings({ minNoteMs: 20 })
    run.at(0, on(40))
    for (const [at, message] of change) run.at(at * ms, message)
    run.runOut()
    expect(run.said.slice(1)).toEqual([
      { at: 220 * ms, out: { kind: 'note-rekey', note: 1, key: 43, legato: true, heldBack: 20 * ms } },
      { at: 220 * ms, out: { kind: 'joined', note: 1, key: 43, channel: 1 } },
    ])
    run.at(400 * ms, off(43))
    expect(run.runOut().map(({ at, out }) => [at / ms, out.kind])).toEqual([[402, 'note-off']])
  })

  test.each<[string, [number, MidiMessage][]]>([
    [
      'off before on',
      [
        [199, off(40)],
        [200, on(43)],
      ],
    ],
    ['the same key again', [[200, on(40)]]],
    [
      'the same key again at the end of the first',
      [
        [200, off(40)],
        [200, on(40)],
      ],
    ],
  ])('%s is struck anew', (_, change) => {
    const run = playStrings({ minNoteMs: 20 })
    run.at(0, on(40))
    for (const [at, message] of change) run.at(at * ms, message)
    run.runOut()
    expect(run.said.slice(1).map(({ at, out }) => [at / ms, out.kind])).toEqual([
      [220, 'note-off'],
      [220, 'note-on'],
    ])
  })

  test('keys passed faster than minNoteMs are joined; the one that lasts is told', () => {
    const run = playStrings({ minNoteMs: 20 })
    run.at(0, on(40))
    for (const [place, key] of [41, 42, 43].entries()) {
      run.at((200 + 10 * place) * ms, on(key))
      run.at((201 + 10 * place) * ms, off(key - 1))
    }
    run.runOut()
    expect(run.said.slice(1).map(({ at, out }) => [at / ms, out.kind])).toEqual([
      [240, 'note-rekey'],
      [240, 'joined'],
      [240, 'joined'],
      [240, 'joined'],
    ])
  })

  test('there and back again within minNoteMs is nothing but joined', () => {
    const run = playStrings({ minNoteMs: 20 })
    run.at(0, on(40))
    run.at(200 * ms, on(42))
    run.at(210 * ms, on(40))
    run.at(211 * ms, off(42))
    run.runOut()
    expect(run.said.slice(1).map(({ out }) => out.kind)).toEqual(['joined', 'joined'])
    run.at(300 * ms, off(40))
    expect(run.runOut()).toMatchObject([{ out: { kind: 'note-off', note: 1 } }])
  })

  test.each<[string, [number, MidiMessage][]]>([
    [
      'bend, on, off',
      [
        [200, bend(8192)],
        [201, on(41)],
        [202, off(40)],
      ],
    ],
    [
      'on, bend, off',
      [
        [200, on(41)],
        [201, bend(8192)],
        [202, off(40)],
      ],
    ],
    [
      'off, bend, on',
      [
        [199.1, off(40)],
        [200, bend(8192)],
        [201, on(41)],
      ],
    ],
  ])('a slide over a semitone (%s) is told at once, key and bend together', (_, change) => {
    const run = playStrings({ minNoteMs: 20, bendRange: 12 })
    run.at(0, on(40))
    // 98 cents of the 100 that a semitone has: 14 bits over 12 semitones each way.
    run.at(190 * ms, bend(8192 + 669))
    run.wakeUpTo(195 * ms)
    const from = run.said.length
    for (const [at, message] of change) run.at(at * ms, message)
    expect(run.said.slice(from)).toEqual([
      { at: 201 * ms, out: { kind: 'bend', channel: 1, cents: 0 } },
      expect.objectContaining({
        at: 201 * ms,
        out: expect.objectContaining({ kind: 'note-rekey', key: 41 }),
      }),
      { at: 201 * ms, out: { kind: 'joined', note: 1, key: 41, channel: 1 } },
    ])
  })

  test('after a slide the next note begins with its own bend, and the old one keeps its own until then', () => {
    const run = playStrings({ minNoteMs: 20, bendRange: 12 })
    run.at(0, on(28))
    run.at(100 * ms, bend(16383))
    run.at(110 * ms, off(28))
    run.at(110 * ms, bend(8192))
    run.at(111 * ms, on(40))
    run.runOut()
    expect(run.said.slice(-3).map(({ at, out }) => [at / ms, out.kind])).toEqual([
      [131, 'note-off'],
      [131, 'bend'],
      [131, 'note-on'],
    ])
  })
})
