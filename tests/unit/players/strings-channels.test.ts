import { expect, test } from 'vitest'
import { bend, off, on } from '../../support/midi-messages.ts'
import { soundingAfter } from '../../support/note-books.ts'
import { playStrings } from '../../support/players.ts'

const ms = 1000
const onOne = { input: { port: 'Bass', channels: [1] } }

test('several channels are a string each: the same key on two of them is two notes', () => {
  const run = playStrings()
  run.at(0, on(40, 100, 1))
  run.at(1 * ms, on(40, 100, 2))
  run.runOut()
  run.at(100 * ms, off(40, 1))
  expect(run.runOut().map(({ out }) => out)).toEqual([{ kind: 'note-off', note: 1 }])
  run.at(200 * ms, off(40, 2))
  expect(run.runOut().map(({ out }) => out)).toEqual([{ kind: 'note-off', note: 2 }])
})

test('a string sounds one note; one channel for all sounds a chord', () => {
  for (const [more, sounding] of [
    [{ legato: false }, 1],
    [onOne, 3],
  ] as const) {
    const run = playStrings(more)
    ;[40, 45, 49].forEach((key, index) => run.at(index * 100 * ms, on(key)))
    run.runOut()
    const count = (kind: string): number => run.said.filter(({ out }) => out.kind === kind).length
    expect(count('note-on')).toBe(3)
    expect(count('note-on') - count('note-off')).toBe(sounding)
  }
})

test('one channel for all: an octave chord is two notes, an octave after an end is one strike', () => {
  const chord = playStrings(onOne)
  chord.at(0, on(40))
  chord.at(5 * ms, on(52))
  expect(chord.runOut().map(({ out }) => out.kind)).toEqual(['note-on', 'note-on'])

  const jump = playStrings(onOne)
  jump.at(0, on(40))
  jump.at(25 * ms, off(40))
  expect(jump.at(30 * ms, on(52))).toEqual([
    { kind: 'note-rekey', note: 1, key: 52 },
    { kind: 'joined', note: 1, key: 52, channel: 1 },
  ])
})

test.each([
  ['string-per-channel', [5], 1],
  ['one-channel', [1, 2, 3, 4], 3],
] as const)('%s goes before how many channels there are', (mode, channels, sounding) => {
  const run = playStrings({ mode, input: { port: 'Bass', channels }, legato: false })
  ;[40, 45, 49].forEach((key, index) => run.at(index * 100 * ms, on(key, 100, channels[0])))
  run.runOut()
  expect(soundingAfter(run.said.map(({ out }) => out)).size).toBe(sounding)
})

test('each string bends on its own', () => {
  expect(playStrings({ bendRange: 12 }).at(0, bend(0, 3))).toEqual([
    { kind: 'bend', channel: 3, cents: -1200 },
  ])
})

test('other channels are not heard', () => {
  const run = playStrings()
  run.at(0, on(40, 100, 9))
  expect(run.runOut()).toEqual([])
})
