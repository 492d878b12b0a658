import { expect, test } from 'vitest'
import { tapped, tempoOfTaps, tempoWithin } from '../../../src/time/tap-tempo.ts'

function tempoAfter(taps: readonly number[]): number | undefined {
  return tempoOfTaps(taps.reduce((all: readonly number[], at) => tapped(all, at), []))
}

test('one tap says nothing, two are enough, and 60 s over the interval is the tempo', () => {
  expect(tempoAfter([0])).toBeUndefined()
  expect(tempoAfter([0, 500_000])).toBe(120)
  // 60 / 0.618 = 97.0874 to four decimals.
  expect(tempoAfter([7, 618_007])).toBe(97.0874)
})

test('of several the mean counts, and no more than the last eight intervals', () => {
  expect(tempoAfter([0, 490_000, 1_000_000, 1_500_000])).toBe(120)
  const fast = Array.from({ length: 9 }, (_, tap) => 10_000_000 + tap * 480_000)
  expect(tempoAfter([9_000_000, 9_500_000, ...fast])).toBe(125)
})

test('taps more than two seconds apart begin anew', () => {
  expect(tempoAfter([0, 500_000, 2_500_001])).toBeUndefined()
  expect(tempoAfter([0, 500_000, 2_500_001, 3_100_001])).toBe(100)
  expect(tempoAfter([0, 2_000_000])).toBe(30)
})

test.each([
  { what: 'one too many', wild: [0, 500_000, 1_000_000, 1_120_000, 1_500_000, 2_000_000] },
  { what: 'one missing', wild: [0, 500_000, 1_000_000, 2_000_000, 2_500_000, 3_000_000] },
  { what: 'one doubled', wild: [0, 500_000, 500_000, 1_000_000, 1_500_000, 2_000_000] },
  { what: 'one late', wild: [0, 500_000, 1_000_000, 1_700_000, 2_000_000, 2_500_000] },
])('one wild tap among steady ones does not wreck the tempo: $what', ({ wild }) => {
  const tempo = tempoAfter(wild) ?? 0
  expect(Math.abs(tempo - 120)).toBeLessThan(120 * 0.06)
})

test('two taps at one time are no tempo, and a tempo stays within 20 to 400', () => {
  expect(tempoAfter([5, 5])).toBeUndefined()
  expect(tempoAfter([0, 1_000])).toBe(400)
  expect(tempoWithin(3)).toBe(20)
  expect(tempoWithin(97.0625)).toBe(97.0625)
  expect(tempoWithin(97.062_549)).toBe(97.0625)
})
