import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  glideCents,
  glideFrom,
  isGliding,
  sweepPlace,
  vibratoCents,
  wanderCents,
} from '../../../src/tuning/motion.ts'
import { checkProperty } from '../../support/property.ts'

const SECOND = 1_000_000

test('a glide in a time goes evenly in cents, from the one pitch to the other', () => {
  const gliding = glideFrom({ ms: 100, when: 'legato' }, 220, 440, SECOND)
  expect(gliding).toEqual({ cents: -1200, at: SECOND, span: 100_000 })
  const at = (ms: number) => glideCents(gliding, SECOND + ms * 1000)
  expect([0, 25, 50, 100, 500].map(at)).toEqual([-1200, -900, -600, 0, 0])
})

test('a glide at a rate takes longer for a wider interval', () => {
  const glide = { centsPerSecond: 2400, when: 'always' } as const
  expect(glideFrom(glide, 220, 440, 0)?.span).toBe(500_000)
  expect(glideFrom(glide, 440, 440 * 2 ** (1 / 12), 0)?.span).toBe(41_667)
})

test('no way to go, no glide', () => {
  expect(glideFrom({ ms: 100, when: 'legato' }, 440, 440, 0)).toBeNull()
  expect(glideFrom({ ms: 0, when: 'legato' }, 220, 440, 0)).toBeNull()
  expect(isGliding(null, 0)).toBe(false)
})

test('vibrato begins at the pitch, after its delay, and goes as far as it says, as often', () => {
  const vibrato = { cents: 30, hz: 5, delayMs: 200 }
  const at = (ms: number, amount = 1) => vibratoCents(vibrato, amount, SECOND, SECOND + ms * 1000)
  expect(at(0)).toBe(0)
  expect(at(200)).toBe(0)
  expect(at(250)).toBeCloseTo(30, 9)
  expect(at(350)).toBeCloseTo(-30, 9)
  expect(at(250, 0.5)).toBeCloseTo(15, 9)
  expect(at(400)).toBeCloseTo(0, 9)
})

test('a sweep goes there and back, evenly', () => {
  expect([0, 1, 2, 3, 4, 5].map((s) => sweepPlace(s * SECOND, 4 * SECOND))).toEqual([0, 0.5, 1, 0.5, 0, 0.5])
})

test('wander stays within its depth, begins at the pitch, and moves no faster than a way of its full depth in one place’s time', () => {
  const wander = fc.record({
    cents: fc.double({ min: 0, max: 100, noNaN: true }),
    seconds: fc.double({ min: 0.5, max: 60, noNaN: true }),
    seed: fc.nat(0xffff_ffff),
  })
  checkProperty(
    'wander',
    fc.property(wander, fc.nat(63), fc.nat(3_600_000_000), (how, lamp, since) => {
      expect(wanderCents(how, lamp, 0)).toBe(0)
      const cents = wanderCents(how, lamp, since)
      expect(Math.abs(cents)).toBeLessThanOrEqual(how.cents)
      // The steepest place of 3t^2 - 2t^3 is 1.5, over a way of at most twice the depth.
      const step = (how.seconds * SECOND) / 1000
      const moved = Math.abs(wanderCents(how, lamp, since + step) - cents)
      expect(moved).toBeLessThanOrEqual((1.5 * 2 * how.cents) / 1000 + 1e-9)
    }),
  )
})

test('each lamp wanders by itself, over the whole of its depth, the same for the same seed', () => {
  const how = { cents: 10, seconds: 2, seed: 7 }
  const ways = [0, 1, 2, 3].map((lamp) =>
    Array.from({ length: 2000 }, (_, place) => wanderCents(how, lamp, place * SECOND)),
  )
  for (const way of ways) {
    expect(Math.max(...way)).toBeGreaterThan(8)
    expect(Math.min(...way)).toBeLessThan(-8)
    expect(Math.abs(mean(way))).toBeLessThan(1)
  }
  for (const [one, other] of [
    [0, 1],
    [1, 2],
    [0, 3],
  ] as const)
    expect(Math.abs(correlation(ways[one] ?? [], ways[other] ?? []))).toBeLessThan(0.15)
  expect(ways[1]?.[77]).toBe(wanderCents({ ...how }, 1, 77 * SECOND))
  expect(wanderCents({ ...how, seed: 8 }, 1, 77 * SECOND)).not.toBe(ways[1]?.[77])
})

function mean(all: readonly number[]): number {
  return all.reduce((sum, one) => sum + one, 0) / all.length
}

/** Pearson's (any textbook of statistics). */
function correlation(a: readonly number[], b: readonly number[]): number {
  const [ma, mb] = [mean(a), mean(b)]
  const over = a.reduce((sum, one, place) => sum + (one - ma) * ((b[place] ?? 0) - mb), 0)
  const spread = (all: readonly number[], m: number) =>
    Math.sqrt(all.reduce((sum, x) => sum + (x - m) ** 2, 0))
  return over / (spread(a, ma) * spread(b, mb))
}
