import { expect, test } from 'vitest'
import type { KeyMap, ScaleTuning } from '../../../src/domain/tuning-spec.ts'
import { scaleKeyToHz } from '../../../src/tuning/scale.ts'

const scale = (change: Partial<ScaleTuning>): ScaleTuning => ({
  id: 'reed',
  kind: 'scale',
  name: '',
  pitches: ['9/8', '3/2', '2/1'],
  refNote: 60,
  refHz: 256,
  ...change,
})
const map = (change: Partial<KeyMap>): KeyMap => ({
  first: 0,
  last: 127,
  middle: 60,
  formalOctave: 3,
  degrees: [],
  ...change,
})
const keys = (tuning: ScaleTuning, ...all: number[]) => all.map((key) => scaleKeyToHz(tuning, key))

test('without a mapping each key is one degree, also outside 0 to 127', () => {
  const found = keys(scale({}), 59, 60, 61, 62, 63, 66, -3, 135)
  const expected = [192, 256, 288, 384, 512, 1024, 256 / 2 ** 21, 256 * 2 ** 25]
  found.forEach((hz, place) => expect((hz ?? NaN) / (expected[place] ?? NaN)).toBeCloseTo(1, 12))
})

test('a mapping of no keys is linear from its middle; the formal octave says nothing then', () => {
  const linear = scale({ map: map({ middle: 62, formalOctave: 7, first: 59, last: 64 }) })
  // Key 60 is two degrees below the 1/1: 9/8 an octave down, at 256 Hz.
  const found = keys(linear, 58, 59, 60, 62, 64, 65)
  expect(found[0]).toBeUndefined()
  expect(found[5]).toBeUndefined()
  expect(found[1]).toBeCloseTo((256 * 8) / 9, 9)
  expect(found[2]).toBe(256)
  expect(found[3]).toBeCloseTo((256 * 2 * 8) / 9, 9)
  expect(found[4]).toBeCloseTo((256 * 2 * 8 * 3) / 9 / 2, 9)
})

test('a formal octave of 0 is the last degree of the scale', () => {
  const pattern = { degrees: [0, 2] }
  const last = scale({ map: map({ ...pattern, formalOctave: 3 }) })
  const none = scale({ map: map({ ...pattern, formalOctave: 0 }) })
  for (let key = 0; key < 128; key++) expect(scaleKeyToHz(none, key)).toBe(scaleKeyToHz(last, key))
  expect(keys(none, 60, 61, 62, 58)).toEqual([256, 384, 512, 128])
})

test('a scale of no pitches: every key that is mapped sounds the 1/1', () => {
  expect(keys(scale({ pitches: [] }), 0, 59, 60, 127)).toEqual([256, 256, 256, 256])
  const some = scale({ pitches: [], map: map({ degrees: [0, null, 5], formalOctave: 0 }) })
  expect(keys(some, 0, 60, 61, 62)).toEqual([256, 256, undefined, 256])
})

test('one pitch is the period and nothing else', () => {
  expect(keys(scale({ pitches: ['3/1'] }), 59, 60, 62)).toEqual([
    expect.closeTo(256 / 3, 9),
    256,
    expect.closeTo(2304, 9),
  ])
})

test('pitches need not rise, and the last may lie below the 1/1', () => {
  const found = keys(scale({ pitches: [700, -5, '1/2'] }), 60, 61, 62, 63, 66, 57)
  const cents = [0, 700, -5, -1200, -2400, 1200]
  found.forEach((hz, place) =>
    expect(1200 * Math.log2((hz ?? NaN) / 256)).toBeCloseTo(cents[place] ?? NaN, 9),
  )
})

test('nothing sounds where the reference is not mapped, and nothing is ever endless or dark', () => {
  expect(keys(scale({ map: map({ degrees: [null, 0] }) }), 60, 61)).toEqual([undefined, undefined])
  expect(keys(scale({ refNote: 61, map: map({ last: 60 }) }), 60, 61)).toEqual([undefined, undefined])
  const wide = scale({ pitches: [120_000], map: map({ degrees: [0, 10_000] }) })
  expect(keys(wide, 60, 61, 0)).toEqual([256, undefined, undefined])
})
