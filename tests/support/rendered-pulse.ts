import type { Duty, Hz } from '../../src/domain/units.ts'
import { createPickup } from '../../src/offline/pickup.ts'
import { toPcm16 } from '../../src/offline/wav.ts'

export const SAMPLE_RATE = 48000

/** `frames` samples of one steady lamp as 16-bit numbers divided by the pickup's gain, from two seconds after it was lit. */
export function renderedPulse(hz: Hz, duty: Duty, frames: number, lamps = 1): Float64Array {
  const pickup = createPickup({ lamps, sampleRate: SAMPLE_RATE })
  const out = new Float64Array(frames)
  let at = -2 * SAMPLE_RATE
  const sink = (block: Float32Array): void => {
    const bytes = toPcm16(block)
    const view = new DataView(bytes.buffer)
    for (let i = 0; i < block.length; i++, at++) {
      if (at >= 0 && at < frames) out[at] = view.getInt16(2 * i, true) / 32767 / pickup.gain
    }
  }
  pickup.apply({ index: 0, at: 0, hz, duty })
  pickup.renderUntil(Math.ceil((frames / SAMPLE_RATE + 2) * 1e6), sink)
  pickup.finish(sink)
  return out
}

/** Amplitude (peak) of the part of `signal` at `hz`, under a Hann window. */
export function amplitudeAt(signal: Float64Array, hz: Hz): number {
  let re = 0
  let im = 0
  for (let i = 0; i < signal.length; i++) {
    const w = signal[i]! * (1 - Math.cos((2 * Math.PI * i) / signal.length))
    const angle = (2 * Math.PI * hz * i) / SAMPLE_RATE
    re += w * Math.cos(angle)
    im += w * Math.sin(angle)
  }
  return (2 * Math.hypot(re, im)) / signal.length
}

/** Size of harmonic n of a pulse train of 0 and 1: 2/(n pi) |sin(n pi D)| (any Fourier-series table). */
export function pulseHarmonic(n: number, duty: Duty): number {
  return Math.abs((2 / (n * Math.PI)) * Math.sin(n * Math.PI * duty))
}

export const decibels = (ratio: number): number => 20 * Math.log10(ratio)
