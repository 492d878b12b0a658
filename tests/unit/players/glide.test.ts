import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Glide } from '../../../src/players/glide.ts'
import { glideTo, jumpTo, stepGlide, STRAIGHT } from '../../../src/players/glide.ts'
import { checkProperty } from '../../support/property.ts'

const ms = 1000

/** What is said, at each time it is due, up to `until`. */
function said(glide: Glide, span: number, until: number): { glide: Glide; told: [number, number][] } {
  const told: [number, number][] = []
  let next = glide
  while (next.dueAt !== null && next.dueAt <= until) {
    const at = next.dueAt
    next = stepGlide(next, at, span)
    told.push([at / ms, next.said])
  }
  return { glide: next, told }
}

test('a step is there after the span, in even steps of a millisecond', () => {
  expect(said(glideTo(STRAIGHT, 100, 0, 0, 4 * ms), 4 * ms, 100 * ms).told).toEqual([
    [1, 25],
    [2, 50],
    [3, 75],
    [4, 100],
  ])
})

test('a bend that moves evenly is half the span late', () => {
  let glide = STRAIGHT
  const told: [number, number][] = []
  for (let at = 0; at <= 40; at++) {
    const until = said(glide, 4 * ms, at * ms)
    told.push(...until.told)
    glide = glideTo(until.glide, at, at * ms, at * ms, 4 * ms)
  }
  // The bend is a staircase that stands at n from n ms to n + 1: half a step behind its middle line.
  for (const [at, cents] of told.slice(6)) expect(cents).toBeCloseTo(at - 2 - 0.5, 9)
})

test('one that came a little while ago is not later for it', () => {
  const { told } = said(glideTo(STRAIGHT, 100, 0, 2 * ms, 5 * ms), 5 * ms, 100 * ms)
  expect(told.at(-1)).toEqual([5, 100])
  expect(glideTo(STRAIGHT, 100, 0, 2 * ms, 2 * ms)).toEqual(jumpTo(100))
})

test('told is never beyond what was sent within the span, and is exactly that after it', () => {
  const sent = fc.array(
    fc.record({ wait: fc.integer({ min: 0, max: 9 * ms }), cents: fc.integer({ min: -1200, max: 1200 }) }),
    {
      minLength: 1,
      maxLength: 30,
    },
  )
  checkProperty(
    'a glide stays within',
    fc.property(sent, fc.integer({ min: 1, max: 5 * ms }), (moves, span) => {
      const history: [number, number][] = [[-Infinity, 0]]
      const check = (told: readonly [number, number][]): void => {
        for (const [at, cents] of told) {
          const begin = at * ms - span
          const then = history.findLast(([when]) => when <= begin)?.[1] ?? 0
          const within = history.filter(([when]) => when > begin && when <= at * ms).map(([, one]) => one)
          expect(cents).toBeGreaterThanOrEqual(Math.min(then, ...within) - 1e-9)
          expect(cents).toBeLessThanOrEqual(Math.max(then, ...within) + 1e-9)
        }
      }
      let glide = STRAIGHT
      let now = 0
      for (const { wait, cents } of moves) {
        now += wait
        const until = said(glide, span, now)
        check(until.told)
        glide = glideTo(until.glide, cents, now, now, span)
        history.push([now, cents])
      }
      const end = said(glide, span, now + span)
      check(end.told)
      expect(end.glide).toEqual(jumpTo(moves.at(-1)?.cents ?? 0))
    }),
  )
})
