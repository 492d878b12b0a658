import { expect, it } from 'vitest'
import { createPickup } from '../../../src/offline/pickup.ts'

it('is in phase to 0.0001 of a period after an hour', () => {
  const hz = 439.995601
  const pickup = createPickup({ lamps: 1, sampleRate: 48000 })
  const from = 3599 * 48000
  let n = 0
  let re = 0
  let im = 0
  const sink = (block: Float32Array): void => {
    for (const sample of block) {
      if (n >= from && n < from + 48000) {
        const window = 1 - Math.cos((2 * Math.PI * (n - from)) / 48000)
        const turns = (n * hz) / 48000
        const angle = 2 * Math.PI * (turns - Math.floor(turns))
        re += sample * window * Math.cos(angle)
        im += sample * window * Math.sin(angle)
      }
      n++
    }
  }
  pickup.apply({ index: 0, at: 0, hz, duty: 0.5 })
  pickup.renderUntil(3_600_000_000, sink)
  pickup.finish(sink)
  expect(n).toBe(3601 * 48000)
  // A pulse of duty one half that starts at 0 is a sine, which a first-order high-pass at 2 Hz moves ahead.
  const ahead = Math.atan2(re, im) - Math.atan(2 / hz)
  expect(Math.abs(ahead) / (2 * Math.PI)).toBeLessThan(0.0001)
})
