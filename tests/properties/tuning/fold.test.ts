import fc from 'fast-check'
import { expect, test } from 'vitest'
import { foldIntoRange } from '../../../src/tuning/fold.ts'
import { checkProperty } from '../../support/property.ts'

const hz = fc.double({ min: 0.01, max: 200_000, noNaN: true })

test('folded into the range by the fewest octaves, or no octave lies there', () => {
  checkProperty(
    'fold',
    fc.property(hz, hz, hz, (rate, a, b) => {
      const [low, high] = [Math.min(a, b), Math.max(a, b)]
      const inRange = []
      for (let octaves = -40; octaves <= 40; octaves++) {
        const moved = rate * 2 ** octaves
        if (moved >= low && moved <= high) inRange.push({ hz: moved, octaves })
      }
      const [best] = inRange.sort((one, two) => Math.abs(one.octaves) - Math.abs(two.octaves))
      const folded = foldIntoRange(rate, low, high)
      expect(folded).toEqual(best)
    }),
    5000,
  )
})
