import fc from 'fast-check'
import { expect, test } from 'vitest'
import { bendForHz } from '../../../src/domain/bent-key.ts'
import { centsBetween, midiKeyToHz } from '../../../src/domain/pitch.ts'
import { bender } from '../../support/rig-outputs.ts'
import { bendFrom, quantiseToBend } from '../../../src/tuning/bend-quantise.ts'
import { checkProperty } from '../../support/property.ts'

const hz = fc.double({ min: -0.4, max: 127.4, noNaN: true }).map(midiKeyToHz)
const range = fc.integer({ min: 1, max: 96 })
const bits = fc.integer({ min: 7, max: 14 })
/** Cents between two bends that the receiver can tell apart. */
const step = (bendRange: number, of = 14) => (bendRange * 100) / 2 ** (of - 1)

test('key and bend are within half a step of the receiver of what was asked, and a bend is a whole one of its steps', () => {
  checkProperty(
    'bend error',
    fc.property(hz, range, bits, (rate, bendRange, bendBits) => {
      const bent = quantiseToBend(rate, bender(bendRange, bendBits))
      const half = step(bendRange, bendBits) / 2
      expect(bent === undefined || bent.drive.bend % 2 ** (14 - bendBits) === 0).toBe(true)
      // A range of under half a semitone and a step goes as far as it goes.
      if (bendRange * 100 - 2 * half < 50) return
      expect(Math.abs(centsBetween(bent?.realHz ?? 0, rate))).toBeLessThanOrEqual(half + 1e-9)
      expect(bent?.drive.key).toBe(Math.round(bent?.drive.key ?? -1))
      expect(Math.abs(centsBetween(midiKeyToHz(bent?.drive.key ?? -1), rate))).toBeLessThanOrEqual(50 + 1e-9)
    }),
  )
})

test('a bend from a sounding key too, or it is out of reach', () => {
  checkProperty(
    'legato bend error',
    fc.property(hz, range, bits, fc.integer({ min: 0, max: 127 }), (rate, bendRange, bendBits, key) => {
      const cents = centsBetween(rate, midiKeyToHz(key))
      const bent = bendFrom(key, rate, bender(bendRange, bendBits))
      const reachable = Math.abs(cents) <= bendRange * 100 - 1.5 * step(bendRange, bendBits)
      const error = Math.abs(centsBetween(bent?.realHz ?? (reachable ? 0 : rate), rate))
      expect(error).toBeLessThanOrEqual(step(bendRange, bendBits) / 2 + 1e-9)
      // What the outputs bend by goes by the same steps.
      expect(bendForHz(rate, key, bendRange, bendBits)).toBe(bent?.drive.bend)
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
