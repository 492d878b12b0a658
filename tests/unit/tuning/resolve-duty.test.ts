import { describe, expect, test } from 'vitest'
import type { ResolveIn } from '../../../src/tuning/resolve.ts'
import { lightOrder, litBy, resolvePart, runResolve } from '../../support/resolving.ts'

function duty(value: number, part = 0): ResolveIn {
  return { kind: 'expression', part, expression: { kind: 'duty', duty: value } }
}

describe('limits of the lamp, 0.02 to 0.5', () => {
  test.each([
    [0, 0.02],
    [0.02, 0.02],
    [0.3, 0.3],
    [0.9, 0.5],
  ])('asked for %d it gets %d', (asked, given) => {
    const run = runResolve()
    expect(litBy(run.at(0, lightOrder(0, 1, { duty: asked }))).get(0)?.duty).toBe(given)
  })
})

test('a note’s own duty goes before the part’s', () => {
  const run = runResolve({}, undefined, [resolvePart({ duty: 0.4 })])
  expect(litBy(run.at(0, lightOrder(0, 1))).get(0)?.duty).toBe(0.4)
  expect(litBy(run.at(0, lightOrder(1, 2, { duty: 0.1 }))).get(1)?.duty).toBe(0.1)
})

test('a change of duty reaches the sounding notes without their own, and the next ones', () => {
  const run = runResolve({}, undefined, [resolvePart(), resolvePart({ id: 'low' })])
  run.at(0, lightOrder(0, 1))
  run.at(0, lightOrder(1, 2, { duty: 0.1 }))
  run.at(0, lightOrder(2, 3, {}, true, 1))
  const changed = litBy(run.at(1, duty(0.25)))
  expect([...changed.keys()]).toEqual([0])
  expect(changed.get(0)).toMatchObject({ duty: 0.25, note: 1, strike: false })
  expect(litBy(run.at(2, lightOrder(0, 4))).get(0)?.duty).toBe(0.25)
})

test('the same duty again says nothing', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1))
  run.at(1, duty(0.25))
  expect(run.at(2, duty(0.25))).toEqual([])
})
