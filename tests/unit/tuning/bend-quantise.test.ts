import { expect, test } from 'vitest'
import { midiKeyToHz, shiftByCents } from '../../../src/domain/pitch.ts'
import { bender } from '../../support/rig-outputs.ts'
import { bendFrom, quantiseToBend } from '../../../src/tuning/bend-quantise.ts'

test('a key of the even tuning needs no bend', () => {
  for (let key = 0; key < 128; key++) {
    expect(quantiseToBend(midiKeyToHz(key), bender(2))?.drive).toEqual({ kind: 'bend', key, bend: 8192 })
  }
})

test('the nearest key, the rest by bend', () => {
  expect(quantiseToBend(shiftByCents(440, 40), bender(2))?.drive).toEqual({
    kind: 'bend',
    key: 69,
    bend: 9830,
  })
  expect(quantiseToBend(shiftByCents(440, 60), bender(2))?.drive).toEqual({
    kind: 'bend',
    key: 70,
    bend: 6554,
  })
})

test('realHz is what key and bend sound', () => {
  const bent = quantiseToBend(shiftByCents(440, 40), bender(2))
  expect(bent?.realHz).toBeCloseTo(440 * 2 ** (((9830 - 8192) / 8192) * (2 / 12)), 9)
})

test('past the last keys as far as the bend reaches', () => {
  expect(quantiseToBend(midiKeyToHz(-2), bender(2))?.drive).toEqual({ kind: 'bend', key: 0, bend: 0 })
  expect(quantiseToBend(midiKeyToHz(128.9), bender(2))?.drive).toMatchObject({ key: 127 })
  expect(quantiseToBend(midiKeyToHz(-2.1), bender(2))).toBeUndefined()
  expect(quantiseToBend(midiKeyToHz(129), bender(2))).toBeUndefined()
})

test('without a bend range only keys', () => {
  expect(quantiseToBend(shiftByCents(440, 40), bender(0))).toEqual({
    drive: { kind: 'bend', key: 69, bend: 8192 },
    realHz: 440,
  })
})

test('from a sounding key within the range, and no further', () => {
  expect(bendFrom(69, midiKeyToHz(70), bender(2))?.drive).toEqual({ kind: 'bend', key: 69, bend: 12288 })
  expect(bendFrom(69, midiKeyToHz(67), bender(2))?.drive).toEqual({ kind: 'bend', key: 69, bend: 0 })
  expect(bendFrom(69, midiKeyToHz(71), bender(2))).toBeUndefined()
  expect(bendFrom(69, NaN, bender(2))).toBeUndefined()
})
