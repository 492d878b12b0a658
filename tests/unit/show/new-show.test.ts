import { expect, test } from 'vitest'
import type { NewShowAnswers } from '../../../src/show/new-show-answers.ts'
import { newShow } from '../../../src/show/new-show.ts'
import { PLANT_NAMES } from '../../../src/show/plant-names.ts'

const TRIO: NewShowAnswers = {
  title: 'Trio',
  players: [
    { kind: 'keys', port: 'Keybed', channels: [] },
    { kind: 'pads', port: 'Keybed', channels: [] },
    { kind: 'strings', port: '', channels: [] },
  ],
  lamps: 8,
  wiring: { kind: 'serial', port: '/dev/ttyUSB0' },
  supply: { volts: 12, maxAmps: 10, watts: 10 },
}

test('players, their channels, and a name to be replaced where the port is not known', () => {
  const { players } = newShow(TRIO)
  expect(players.map(({ id, name }) => `${id} ${name}`)).toEqual(['keys Keys', 'pads Pads', 'bass Bass'])
  // On one cable with the pads, the keys leave channel 10 to them (General MIDI level 1: percussion).
  expect(players[0]?.input).toEqual({
    port: 'Keybed',
    channels: [1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 14, 15, 16],
  })
  expect(players[1]?.input.channels).toEqual([10])
  expect(players[2]?.input).toEqual({ port: 'Bass: play to find its port', channels: [1, 2, 3, 4] })
})

test('two of a kind have names of their own; channels that were answered are kept, each once', () => {
  const keys = { kind: 'keys', port: '', channels: [5, 2, 5] } as const
  const { players } = newShow({ ...TRIO, players: [keys, keys] })
  expect(players.map(({ id, name }) => `${id} ${name}`)).toEqual(['keys Keys', 'keys2 Keys 2'])
  expect(players.map(({ input }) => input)).toEqual([
    { port: 'Keys: play to find its port', channels: [2, 5] },
    { port: 'Keys 2: play to find its port', channels: [2, 5] },
  ])
})

test('with enough lamps each player has some of their own, pads the last', () => {
  const [song] = newShow(TRIO).songs
  expect(song).toMatchObject({ id: 'first-light', title: 'First light' })
  expect(
    song?.parts.map(({ id, strategy, lamps, claim }) => [id, strategy.kind, lamps.join(' '), claim?.when]),
  ).toEqual([
    ['keys', 'lowest-free', 'fern moss reed', undefined],
    ['pads', 'rotate', 'palm lotus vine', undefined],
    ['bass', 'unison', 'sedge ivy', 'playing'],
  ])
})

test('with too few they share them, and the strings claim theirs while they play', () => {
  const [song] = newShow({ ...TRIO, lamps: 4 }).songs
  expect(song?.parts.map(({ id, lamps }) => [id, lamps.join(' ')])).toEqual([
    ['keys', 'fern moss reed sedge'],
    ['pads', 'reed sedge'],
    ['bass', 'fern moss reed sedge'],
  ])
})

test('64 lamps have 64 names, and hang in an arc', () => {
  expect(new Set(PLANT_NAMES).size).toBe(64)
  const { lamps } = newShow({ ...TRIO, lamps: 5 }).rig
  expect(lamps.map(({ x, y }) => [x, y])).toEqual([
    [-2, 0.6],
    [-1, 1.65],
    [0, 2],
    [1, 1.65],
    [2, 0.6],
  ])
  expect(newShow({ ...TRIO, lamps: 1 }).rig.lamps[0]).toMatchObject({ x: 0, y: 2 })
})

test('MIDI wiring has as many outputs as its layout needs for the lamps', () => {
  const outputs = (layout: 'channel-per-lamp' | 'mpe' | 'note-per-lamp', lamps: number) =>
    newShow({ ...TRIO, lamps, wiring: { kind: 'midi', port: 'Box', layout } }).rig.outputs.map(
      ({ id, port }) => `${id} ${port}`,
    )
  const more = (number: number) => `din${number} Lamp box ${number}: choose its MIDI port`
  // 16 channels; 15 member channels in a lower zone (MPE 1.0); keys 36 to 127.
  expect(outputs('channel-per-lamp', 16)).toEqual(['din Box'])
  expect(outputs('channel-per-lamp', 17)).toEqual(['din Box', more(2)])
  expect(outputs('mpe', 15)).toEqual(['din Box'])
  expect(outputs('mpe', 64)).toEqual(['din Box', more(2), more(3), more(4), more(5)])
  expect(outputs('note-per-lamp', 64)).toEqual(['din Box'])
})

test('lamps in memory are a box that answers to "virtual"', () => {
  const { outputs } = newShow({ ...TRIO, wiring: { kind: 'virtual' } }).rig
  expect(outputs).toMatchObject([{ id: 'wire', kind: 'serial', port: 'virtual' }])
})
