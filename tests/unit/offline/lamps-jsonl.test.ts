import { expect, it } from 'vitest'
import { lampLine } from '../../../src/offline/lamps-jsonl.ts'
import { dark, lit } from '../../support/lamp-changes.ts'

it('writes a lit lamp field by field', () => {
  const change = lit(0, 440, 0.5, { note: 7, realHz: 439.9956005, cents: -0.01730999 })
  expect(lampLine(change, 1_250_000)).toBe(
    '{"t":1.25,"lamp":"fern","on":true,"part":"lead","player":"keys","note":69,"hz":440,"realHz":439.995601,"cents":-0.0173,"duty":0.5}',
  )
})

it('says which flash of a pulse it is, first and zeroth ones too', () => {
  expect(lampLine(lit(0, 3, 0.5, { flash: 0 }), 0)).toMatch(/"duty":0.5,"flash":0}$/)
})

it('says that a lamp only glows', () => {
  expect(lampLine(lit(0, 25_000, 0.3, { glow: true, note: 0 }), 0)).toMatch(/"duty":0.3,"glow":true}$/)
})

it('writes a dark lamp', () => {
  expect(lampLine(dark(0), 1_500_000)).toBe('{"t":1.5,"lamp":"fern","on":false}')
})

it('keeps the microsecond, also the first and late ones, as plain decimals', () => {
  expect(lampLine(dark(0), 1)).toBe('{"t":0.000001,"lamp":"fern","on":false}')
  expect(lampLine(dark(0), 86_400_000_001)).toBe('{"t":86400.000001,"lamp":"fern","on":false}')
})

it('has no -0', () => {
  expect(JSON.parse(lampLine(lit(0, 440, 0.5, { cents: -0.00001 }), 0)).cents).toBe(0)
})

it('refuses a number that JSON has no word for', () => {
  expect(() => lampLine(lit(0, 440, 0.5, { cents: NaN }), 0)).toThrow(
    'fern: cents must be a finite number, got NaN',
  )
})
