import { expect, test } from 'vitest'
import { nextMultiple, timeOfBeat } from '../../../src/time/beat-clock.ts'

/** 60,000,000 x beats / tempo, with the tempo in sixteenths of a beat a minute, rounded to the nearest: whole numbers only. */
function exact(beats: number, sixteenths: number): number {
  const numerator = 60_000_000n * 16n * BigInt(beats)
  return Number((2n * numerator + BigInt(sixteenths)) / (2n * BigInt(sixteenths)))
}

test.each([
  { tempo: 97.0625, every: 1 },
  { tempo: 137.0625, every: 5 },
  { tempo: 60, every: 4 },
  { tempo: 999.9375, every: 3 },
])(
  'points of the grid are where exact arithmetic has them, after hours as well: $tempo, $every',
  ({ tempo, every }) => {
    const began = 123_456_789
    const clock = { at: began, beats: 0, tempo }
    const nextOnGrid = (at: number): number => timeOfBeat(clock, nextMultiple(clock, every, at))
    for (const count of [0, 1, 2, 3, 7, 100, 9_999, 123_456]) {
      const point = began + exact(count * every, tempo * 16)
      const next = began + exact((count + 1) * every, tempo * 16)
      expect(nextOnGrid(point)).toBe(point)
      expect(nextOnGrid(point + 1)).toBe(next)
      expect(nextOnGrid(next - 1)).toBe(next)
    }
  },
)
