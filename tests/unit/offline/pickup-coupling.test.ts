import { expect, it } from 'vitest'
import { renderedLight } from '../../support/rendered-light.ts'

it('loses steady light as a first-order high-pass at 2 Hz does: to 1/e in 1/(2 pi 2 Hz) = 79.6 ms', () => {
  const sound = renderedLight(1, [{ index: 0, at: 0, hz: 1000, duty: 1 }], 1_000_000)
  expect(sound[4800]! / sound[4800 - 3820]!).toBeCloseTo(Math.exp(-1), 3)
})

it('ends at rest, less than half a step of 16 bits from 0', () => {
  const sound = renderedLight(1, [{ index: 0, at: 0, hz: 1000, duty: 1 }], 1_000_000)
  expect(sound.length).toBe(96_000)
  expect(Math.abs(sound.at(-1)!)).toBeLessThan(0.5 / 32767)
})
