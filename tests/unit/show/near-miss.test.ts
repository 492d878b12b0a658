import { expect, test } from 'vitest'
import { nearMiss } from '../../../src/show/near-miss.ts'

const FIELDS = ['tempo', 'beats', 'tuning', 'lowHz', 'highHz', 'kind']

test.each([
  ['tempoo', 'tempo'],
  ['Tempo', 'tempo'],
  ['tmepo', 'tempo'],
  ['low_hz', 'lowHz'],
  ['knid', 'kind'],
  ['beat', 'beats'],
])('%s was meant to be %s', (word, meant) => {
  expect(nearMiss(word, FIELDS)).toBe(meant)
})

test.each(['colour', 'x', '', 'temperature'])('"%s" is near nothing', (word) => {
  expect(nearMiss(word, FIELDS)).toBeUndefined()
})

test('a word longer than anybody types is near nothing', () => {
  expect(nearMiss('tempo'.repeat(20_000), ['tempo'.repeat(20_000)])).toBeUndefined()
})
