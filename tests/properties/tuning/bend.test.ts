import fc from 'fast-check'
import { expect, test } from 'vitest'
import { centsBetween, midiKeyToHz } from '../../../src/domain/pitch.ts'
import { bender } from '../../support/rig-outputs.ts'
import { bendFrom, quantiseToBend } from '../../../src/tuning/bend-quantise.ts'
import { checkProperty } from '../../support/property.ts'

const hz = fc.double({ min: -0.4, max: 127.4, noNaN: true }).map(midiKeyToHz)
const range = fc.integer({ min: 1, max: 96 })
const step = (bendRange: number) => (bendRange * 100) / 8192

test('key and bend are within half a bend step of what was asked', () => {
  checkProperty(
    'bend error',
    fc.property(hz, range, (rate, bendRange) => {
      const bent = quantiseToBend(rate, bender(bendRange))
      expect(Math.abs(centsBetween(bent?.realHz ?? 0, rate))).toBeLessThanOrEqual(step(bendRange) / 2 + 1e-9)
      expect(bent?.drive.key).toBe(Math.round(bent?.drive.key ?? -1))
      expect(Math.abs(centsBetween(midiKeyToHz(bent?.drive.key ?? -1), rate))).toBeLessThanOrEqual(50 + 1e-9)
    }),
  )
})

test('a bend from a sounding key too, or it is out of reach', () => {
  checkProperty(
    'legato bend error',
    fc.property(hz, range, fc.integer({ min: 0, max: 127 }), (rate, bendRange, key) => {
      const cents = centsBetween(rate, midiKeyToHz(key))
      const bent = bendFrom(key, rate, bender(bendRange))
      const reachable = Math.abs(cents) <= bendRange * 100 - 1.5 * step(bendRange)
      const error = Math.abs(centsBetween(bent?.realHz ?? (reachable ? 0 : rate), rate))
      expect(error).toBeLessThanOrEqual(step(bendRange) / 2 + 1e-9)
      expect(bent?.drive.key ?? key).toBe(key)
    }),
  )
})

test('a rising pitch gives a rising one; by less than a step not where a semitone is no whole number of steps', () => {
  checkProperty(
    'bend monotone',
    fc.property(hz, fc.double({ min: 0, max: 5, noNaN: true }), range, (rate, cents, bendRange) => {
      const low = quantiseToBend(rate, bender(bendRange))
      const high = quantiseToBend(Math.min(rate * 2 ** (cents / 1200), midiKeyToHz(127.4)), bender(bendRange))
      const fall = Number.isInteger(Math.log2(bendRange)) ? 1e-9 : step(bendRange)
      expect(centsBetween(high?.realHz ?? 0, low?.realHz ?? NaN)).toBeGreaterThanOrEqual(-fall)
    }),
    5000,
  )
})
