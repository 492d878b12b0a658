import { describe, expect, it } from 'vitest'
import { renderedLight } from '../../support/rendered-light.ts'

/** Undoes the 2 Hz coupling, so that what is left is light: 0 dark, 1 lit. */
function light(sound: Float64Array): Float64Array {
  const leak = Math.exp((-2 * Math.PI * 2) / 48000)
  let before = 0
  let sum = 0
  return sound.map((sample) => {
    sum += sample - leak * before
    before = sample
    return (sum * 2) / (1 + leak)
  })
}

const at = (seen: Float64Array, ms: number): number => Math.abs(Math.round(seen[ms * 48]! * 1000) / 1000)

describe('the light behind the sound', () => {
  it('starts with the on part at the strike and goes dark at once', () => {
    const seen = light(
      renderedLight(
        1,
        [
          { index: 0, at: 100_000, hz: 10, duty: 0.5 },
          { index: 0, at: 220_000, dark: true },
        ],
        300_000,
      ),
    )
    expect([98, 102, 148, 152, 198, 202, 218, 222, 260].map((ms) => at(seen, ms))).toEqual([
      0, 1, 1, 0, 0, 1, 1, 0, 0,
    ])
    expect(at(seen, 100)).toBeCloseTo(0.5, 2)
    expect(at(seen, 220)).toBeCloseTo(0.5, 2)
  })

  it('keeps the phase when the rate changes', () => {
    // A quarter of 100 ms has gone; a quarter of 200 ms more makes the half at which it goes off.
    const seen = light(
      renderedLight(
        1,
        [
          { index: 0, at: 0, hz: 10, duty: 0.5 },
          { index: 0, at: 25_000, hz: 5, duty: 0.5 },
        ],
        400_000,
      ),
    )
    expect([24, 26, 73, 77, 173, 177, 273, 277].map((ms) => at(seen, ms))).toEqual([1, 1, 1, 0, 0, 1, 1, 0])
  })

  it('puts a narrower duty into effect at once and a wider one at the next pulse', () => {
    const seen = light(
      renderedLight(
        1,
        [
          { index: 0, at: 0, hz: 10, duty: 0.5 },
          { index: 0, at: 30_000, hz: 10, duty: 0.2 },
          { index: 0, at: 40_000, hz: 10, duty: 0.8 },
        ],
        250_000,
      ),
    )
    expect([28, 32, 42, 78, 98, 102, 178, 182].map((ms) => at(seen, ms))).toEqual([1, 0, 0, 0, 0, 1, 1, 0])
  })

  it('adds lamps up', () => {
    const seen = light(
      renderedLight(
        3,
        [0, 1, 2].map((index) => ({ index, at: index * 10_000, hz: 5, duty: 0.5 })),
        95_000,
      ),
    )
    expect([5, 15, 25, 94, 97].map((ms) => at(seen, ms))).toEqual([1, 2, 3, 3, 0])
  })

  it('is a steady light at the height of the duty from half the sample rate on', () => {
    const seen = light(renderedLight(1, [{ index: 0, at: 0, hz: 24_000, duty: 0.25 }], 100_000))
    expect([5, 50, 95, 105].map((ms) => at(seen, ms))).toEqual([0.25, 0.25, 0.25, 0])
  })

  it('gives a pulse much shorter than a sample its area', () => {
    // 0.02 of 1/8000 s is 0.12 samples; what is left of one pulse is an impulse of that area.
    const sound = renderedLight(
      1,
      [
        { index: 0, at: 10_000, hz: 8000, duty: 0.02 },
        { index: 0, at: 10_100, dark: true },
      ],
      50_000,
    )
    const area = light(sound)
      .slice(400, 600)
      .reduce((sum, sample) => sum + sample, 0)
    expect(area).toBeCloseTo(0.12, 3)
  })
})
