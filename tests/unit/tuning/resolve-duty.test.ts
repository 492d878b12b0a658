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

describe('by the key', () => {
  const dutyBy = { base: 0.5, keys: [40, 80], low: 0.1, high: 0.5 } as const
  test.each([
    [40, 0.1],
    [20, 0.1],
    [60, 0.3],
    [80, 0.5],
    [100, 0.5],
  ])('thin for low: key %d has %d', (key, given) => {
    const run = runResolve({}, undefined, [resolvePart({ dutyBy })])
    expect(litBy(run.at(0, lightOrder(0, 1, { key }))).get(0)?.duty).toBeCloseTo(given, 12)
  })

  test('as played, before transposing; also where the voice goes on to another key', () => {
    const run = runResolve({}, undefined, [resolvePart({ dutyBy, transpose: 12 })])
    expect(litBy(run.at(0, lightOrder(0, 1, { key: 52 }))).get(0)?.duty).toBeCloseTo(0.1, 12)
    expect(litBy(run.at(1, lightOrder(0, 1, { key: 72 }, false))).get(0)?.duty).toBeCloseTo(0.3, 12)
  })
})

describe('by a sweep', () => {
  const dutyBy = { base: 0.5, sweepSeconds: 2, low: 0.1, high: 0.5 } as const
  const swept = () => runResolve({}, undefined, [resolvePart({ dutyBy })])

  test('from low to high and back, from the song’s first light, twenty times a second', () => {
    const run = swept()
    run.at(5_000_000, lightOrder(0, 1))
    const told = run.wakeUpTo(7_000_000).map(({ at, out }) => [at, litBy([out]).get(0)?.duty] as const)
    expect(told.slice(0, 2)).toEqual([
      [5_050_000, expect.closeTo(0.12, 12)],
      [5_100_000, expect.closeTo(0.14, 12)],
    ])
    expect(told.find(([at]) => at === 6_000_000)?.[1]).toBeCloseTo(0.5, 12)
    expect(told.at(-1)).toEqual([7_000_000, expect.closeTo(0.1, 12)])
    expect(told).toHaveLength(40)
  })

  test('a note with a duty of its own keeps it', () => {
    const run = swept()
    run.at(0, lightOrder(0, 1, { duty: 0.2 }))
    expect(run.wakeUpTo(3_000_000)).toEqual([])
  })
})
