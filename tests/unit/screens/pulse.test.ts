import { expect, test } from 'vitest'
import { isPulse, perMinute } from '../../../app/screens/stage/pulse.ts'
import { demoShow } from '../../support/demo.ts'

const [dew] = demoShow().songs
if (!dew) throw new Error('no song')
const pulsing = { ...dew, parts: dew.parts.map((part) => ({ ...part, pulse: { ratio: '3:2' } })) }
const lit = { lamp: 'fern', on: true, part: 'lead', hz: 2.43 }

test('a lamp pulses where its part does, until the controller has it at a pitch; a low note is none', () => {
  expect(isPulse(pulsing, lit)).toBe(true)
  expect(isPulse(pulsing, { ...lit, hz: 30 })).toBe(false)
  expect(isPulse(pulsing, { ...lit, part: 'elsewhere' })).toBe(false)
  expect(isPulse(pulsing, { lamp: 'fern', on: false })).toBe(false)
  // A0, key 21, is 27.5 Hz.
  expect(isPulse(dew, { ...lit, hz: 27.5 })).toBe(false)
  expect(isPulse(undefined, lit)).toBe(false)
})

test('its rate in flashes a minute', () => {
  expect([97.0625, 99.94, 99.96, 145.59375, 1799.6].map((flashes) => perMinute(flashes / 60))).toEqual([
    '97.1',
    '99.9',
    '100',
    '146',
    '1800',
  ])
})
