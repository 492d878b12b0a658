import { expect, test } from 'vitest'
import type { PitchRow } from '../../../../src/contract/from-host.ts'
import { seriesOf, tallyOf, worstRows } from '../../../../app/screens/tuning/pitch-rows.ts'

const row = (key: number, cents?: number): PitchRow =>
  cents === undefined
    ? { key, asked: 100, octaves: null }
    : { key, asked: 100, octaves: 0, hz: 100, realHz: 100, cents }

const FERN = { lamp: 'fern', rows: [row(60, 0.5), row(61, -7), row(62)] }
const MOSS = { lamp: 'moss', rows: [row(60, 0.5), row(61, -7), row(62)] }
const PALM = { lamp: 'palm', rows: [row(60, -0.6), row(61), row(62)] }
/** The strategy never lights it. */
const IVY = { lamp: 'ivy', rows: [] }

test('lamps that are off alike are one series, those without rows none', () => {
  expect(seriesOf([FERN, PALM, MOSS, IVY]).map(({ lamps }) => lamps)).toEqual([['fern', 'moss'], ['palm']])
})

test('for each key the lamp that is farthest off, either way, and who refuses it besides', () => {
  const worst = worstRows([FERN, PALM, MOSS, IVY])
  expect(worst.map(({ lamp, row: { key, cents }, refusedBy }) => [key, lamp, cents, refusedBy])).toEqual([
    [60, 'palm', -0.6, []],
    [61, 'fern', -7, ['palm']],
    [62, 'fern', undefined, ['palm', 'moss']],
  ])
})

test('lamps with keys of their own, as bells have, in the order of keys', () => {
  const bells = [
    { lamp: 'reed', rows: [row(70, 1)] },
    { lamp: 'sedge', rows: [row(40, 2)] },
  ]
  expect(worstRows(bells).map(({ lamp }) => lamp)).toEqual(['sedge', 'reed'])
})

test('the tally counts pitches on lamps, those over five cents, and refusals', () => {
  const tally = tallyOf([FERN, PALM])
  expect(tally.worst).toEqual({ lamp: 'fern', row: row(61, -7) })
  expect(tally).toMatchObject({ pitches: 6, heard: 1 })
  expect(tally.refused).toEqual([
    { lamp: 'fern', keys: 1 },
    { lamp: 'palm', keys: 2 },
  ])
  // Five cents exactly is not more than five.
  expect(tallyOf([{ lamp: 'fern', rows: [row(60, 5), row(61, -5), row(62, 5.01)] }]).heard).toBe(1)
})

test('keys without a pitch in the tuning are counted once, and are no refusals', () => {
  const none = (key: number): PitchRow => ({ key, asked: null, octaves: null })
  const tally = tallyOf([
    { lamp: 'fern', rows: [row(60, 1), none(61), none(63)] },
    { lamp: 'palm', rows: [row(60, 1), none(61), none(63)] },
  ])
  expect(tally).toMatchObject({ pitches: 2, refused: [], unmapped: 2 })
})
