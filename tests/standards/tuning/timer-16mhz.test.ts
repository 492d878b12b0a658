import { expect, test } from 'vitest'
import { midiKeyToHz } from '../../../src/domain/pitch.ts'
import { quantise } from '../../../src/tuning/quantise.ts'
import { quantiseToTimer } from '../../../src/tuning/timer.ts'
import { WIRE } from '../../support/rig-outputs.ts'

// Fast PWM, f = clock / (prescaler x (1 + TOP)): ATmega640/1280/2560 data sheet. Numbers computed from that formula.
test.each([
  [28, 8, 48539, 41.2031, 4, -0.0132],
  [69, 1, 36363, 439.9956, 4, -0.0173],
  [108, 1, 3821, 4186.2899, 4, 0.1162],
  [127, 1, 1275, 12539.185, 3, -0.6445],
])('key %i at 16 MHz: prescaler %i, TOP %i, %f Hz', (key, prescaler, top, hz, places, cents) => {
  const quantised = quantise(midiKeyToHz(key), WIRE, 0)
  expect(quantised?.drive).toMatchObject({ kind: 'timer', prescaler, top })
  expect(quantised?.realHz).toBeCloseTo(hz, places)
  expect(quantised?.cents).toBeCloseTo(cents, 4)
})

test('A4 at 125 MHz with the divider in sixteenths: 4 6/16, TOP 64934', () => {
  // (TOP + 1) x (INT + FRAC / 16) clocks a period: RP2040 data sheet, PWM. Computed from that formula.
  const quantised = quantiseToTimer(440, { clockHz: 125_000_000, prescalers: [4 + 6 / 16], bits: 16 })
  expect(quantised?.drive).toMatchObject({ prescaler: 4.375, top: 64934 })
})
