import { describe, expect, it } from 'vitest'
import { createPickup } from '../../../src/offline/pickup.ts'
import type { LightChange } from '../../../src/offline/light-change.ts'

const TABLE: readonly (readonly [LightChange, string])[] = [
  [{ index: 2, at: 0, hz: 440, duty: 0.5 }, 'lamp 2 is not one of the 2 lamps of this pickup, 0 to 1'],
  [{ index: 0, at: 0, hz: 0, duty: 0.5 }, 'lamp 0 at 0 us: the rate must be over 0 Hz, got 0'],
  [{ index: 0, at: 0, hz: NaN, duty: 0.5 }, 'lamp 0 at 0 us: the rate must be over 0 Hz, got NaN'],
  [{ index: 0, at: 0, hz: 440, duty: 1.5 }, 'lamp 0 at 0 us: the duty must be 0 to 1, got 1.5'],
  [{ index: 0, at: NaN, dark: true }, 'lamp 0: the time must be a number of microseconds, got NaN'],
  [{ index: 0, at: -1, dark: true }, 'lamp 0: change at -1 us comes after one at 0 us'],
]

describe('a change that cannot be is refused', () => {
  for (const [change, message] of TABLE) {
    it(`says: ${message}`, () => {
      const pickup = createPickup({ lamps: 2, sampleRate: 48000 })
      expect(() => pickup.apply(change)).toThrow(new RangeError(message))
    })
  }

  it('so is time that goes back, and an end before a change', () => {
    const pickup = createPickup({ lamps: 1, sampleRate: 48000 })
    pickup.renderUntil(10, () => undefined)
    expect(() => pickup.renderUntil(9, () => undefined)).toThrow(/cannot go back to 9 us/)
    expect(() => pickup.apply({ index: 0, at: 9, dark: true })).toThrow(/comes after one at 10 us/)
    pickup.apply({ index: 0, at: 20, dark: true })
    expect(() => pickup.finish(() => undefined)).toThrow(/change at 20 us is not rendered/)
  })

  it('so are a rig without lamps and an odd sample rate', () => {
    expect(() => createPickup({ lamps: 0, sampleRate: 48000 })).toThrow(/1 lamp or more, got 0/)
    expect(() => createPickup({ lamps: 1, sampleRate: 44.1 })).toThrow(
      /whole number of Hz from 8000, got 44.1/,
    )
  })
})
