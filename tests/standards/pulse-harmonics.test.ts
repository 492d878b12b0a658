import { describe, expect, it } from 'vitest'
import { amplitudeAt, decibels, pulseHarmonic, renderedPulse } from '../support/rendered-pulse.ts'

// The Fourier series of a pulse train, as in any table of Fourier series; values computed from the formula.
const TABLE: readonly (readonly [number, readonly number[]])[] = [
  [0.5, [0.63662, 0, -0.21221, 0, 0.12732]],
  [0.25, [0.45016, 0.31831, 0.15005, 0, -0.09003]],
  [1 / 3, [0.55133, 0.27566, 0, -0.13783, -0.11027]],
]

describe('first five harmonics of the written sound against the table', () => {
  for (const [duty, expected] of TABLE) {
    it(`duty ${duty.toFixed(3)} at 480 Hz, signs and all`, () => {
      // Two seconds hold whole periods, so a period starts at sample 0.
      const signal = renderedPulse(480, duty, 48000)
      expected.forEach((coefficient, i) => {
        let cosine = 0
        // The on part's middle is the series' origin.
        const middle = (duty / 480) * 24000
        for (let k = 0; k < signal.length; k++) {
          cosine += signal[k]! * Math.cos((2 * Math.PI * 480 * (i + 1) * (k - middle)) / 48000)
        }
        expect((2 * cosine) / signal.length).toBeCloseTo(coefficient, 3)
      })
    })
  }
})

const PULSES: readonly (readonly [number, number])[] = [
  [440, 0.5],
  [439.9956, 0.5],
  [41.203445, 0.1],
  [41.2031, 0.02],
  [1000, 0.25],
  [523.251131, 1 / 3],
  [4186.2899, 0.5],
  [3000, 0.02],
  [8000, 0.98],
  [82.406889, 0.98],
]

describe('every harmonic from 20 Hz to 10 kHz within 0.5 dB of 2/(n pi) sin(n pi D)', () => {
  for (const [hz, duty] of PULSES) {
    it(`${hz} Hz, duty ${duty.toFixed(3)}`, () => {
      const signal = renderedPulse(hz, duty, 48000)
      const fundamental = pulseHarmonic(1, duty)
      const errors: number[] = []
      const vanishing: number[] = []
      for (let n = 1; n * hz <= 10000; n++) {
        const should = pulseHarmonic(n, duty)
        const is = amplitudeAt(signal, n * hz)
        if (should < 1e-9) vanishing.push(decibels(is / fundamental))
        else errors.push(Math.abs(decibels(is / should)))
      }
      expect(errors.length + vanishing.length).toBe(Math.floor(10000 / hz))
      console.log(
        `${hz} Hz, duty ${duty.toFixed(3)}: ${errors.length} harmonics, worst ${Math.max(...errors).toFixed(3)} dB off; ` +
          `${vanishing.length} that vanish, highest ${Math.max(-Infinity, ...vanishing).toFixed(1)} dB`,
      )
      expect(Math.max(...errors)).toBeLessThan(0.5)
      expect(Math.max(-Infinity, ...vanishing)).toBeLessThan(-60)
    })
  }
})
