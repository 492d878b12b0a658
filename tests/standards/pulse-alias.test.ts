import FFT from 'fft.js'
import { describe, expect, it } from 'vitest'
import { decibels, renderedPulse, SAMPLE_RATE } from '../support/rendered-pulse.ts'

const SIZE = 65536
/** Bins either side that the window's main lobe fills. */
const LOBE = 5

/** Spectrum under a four-term Blackman-Harris window, side lobes 92 dB down (F. J. Harris 1978, from memory). */
function spectrum(signal: Float64Array): Float64Array {
  const fft = new FFT(SIZE)
  const windowed = Array.from(signal, (x, i) => {
    const a = (2 * Math.PI * i) / SIZE
    return x * (0.35875 - 0.48829 * Math.cos(a) + 0.14128 * Math.cos(2 * a) - 0.01168 * Math.cos(3 * a))
  })
  const bins = fft.createComplexArray() as number[]
  fft.realTransform(bins, windowed)
  return Float64Array.from({ length: SIZE / 2 }, (_, k) => Math.hypot(bins[2 * k]!, bins[2 * k + 1]!))
}

/** Largest line that is at no harmonic, in dB against the fundamental. */
function worstAlias(hz: number, duty: number, lamps: number): number {
  const bins = spectrum(renderedPulse(hz, duty, SIZE, lamps))
  const binHz = SAMPLE_RATE / SIZE
  let fundamental = 0
  let worst = 0
  bins.forEach((size, k) => {
    const n = Math.round((k * binHz) / hz)
    const near = Math.abs(k - (n * hz) / binHz) <= LOBE
    if (near && n === 1) fundamental = Math.max(fundamental, size)
    if (!near) worst = Math.max(worst, size)
  })
  return decibels(worst / fundamental)
}

// Exact bins of 65536 at 48 kHz are multiples of 375/512 Hz.
const PULSES: readonly (readonly [hz: number, duty: number, lamps: number])[] = [
  [440, 0.5, 1],
  [601 * (375 / 512), 0.5, 1],
  [41.203, 0.1, 1],
  [57 * (375 / 512), 0.1, 1],
  [1000.3, 0.25, 1],
  [523.251131, 1 / 3, 1],
  [4186.009, 0.5, 1],
  [4186.009, 0.1, 1],
  [3001, 0.02, 1],
  [7901.3, 0.37, 1],
  [7999.1, 0.98, 1],
  [110, 0.02, 1],
  [439.9956, 0.5, 8],
  [2793.8, 0.1, 8],
]

describe('whatever is not a harmonic is at least 60 dB under the fundamental, after 16 bits', () => {
  for (const [hz, duty, lamps] of PULSES) {
    it(`${hz.toFixed(3)} Hz, duty ${duty.toFixed(3)}, ${lamps} lamps in the rig`, () => {
      const worst = worstAlias(hz, duty, lamps)
      console.log(`${hz.toFixed(3)} Hz, duty ${duty.toFixed(3)}, ${lamps} lamps: ${worst.toFixed(1)} dB`)
      expect(worst).toBeLessThan(-60)
    })
  }

  it('would notice pulses that are just sampled', () => {
    const naive = Float64Array.from({ length: SIZE }, (_, i) =>
      Number(((i * 4186.009) / SAMPLE_RATE) % 1 < 0.5),
    )
    const bins = spectrum(naive)
    const third = Math.round(((48000 - 7 * 4186.009) * SIZE) / SAMPLE_RATE)
    expect(decibels(bins[third]! / bins[Math.round((4186.009 * SIZE) / SAMPLE_RATE)]!)).toBeGreaterThan(-30)
  })
})
