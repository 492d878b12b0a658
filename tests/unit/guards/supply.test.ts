import { describe, expect, test } from 'vitest'
import type { SupplyGuardConfig } from '../../../src/guards/supply.ts'
import { supplyGuard } from '../../../src/guards/supply.ts'
import { BENCH, plantLamp } from '../../support/glasshouse-lamps.ts'
import { StageRun } from '../../support/stage-run.ts'
import { darkens, lights, wishes } from '../../support/wishing.ts'

function guard(watts: number[], more: Partial<SupplyGuardConfig> = {}) {
  const lamps = watts.map((each, index) => plantLamp(index, { watts: each }))
  return new StageRun(supplyGuard, { supplies: [BENCH], lamps, action: 'refuse', ...more })
}

// Amps = watts / volts, and loading a supply to 80 %: common practice, no source.
describe('three lamps of 10 W at 12 V on 2.5 A used to 80 %: 2 A hold two of 0.83 A, not three', () => {
  test('two light, the third is refused and reported', () => {
    const run = guard([10, 10, 10])
    const [first, second, third] = [lights(0, 1), lights(1, 2), lights(2, 3)]
    expect(run.at(0, wishes(first, second, third))).toEqual([
      { kind: 'admitted', wishes: [first, second] },
      { kind: 'refused', lamp: 2, supply: 'bench' },
    ])
  })

  test('one after the other too; once one is dark the third lights', () => {
    const run = guard([10, 10, 10])
    run.at(0, wishes(lights(0, 1)))
    run.at(1, wishes(lights(1, 2)))
    expect(run.at(2, wishes(lights(2, 3)))).toMatchObject([{ wishes: [] }, { kind: 'refused', lamp: 2 }])
    run.at(3, wishes(darkens(0)))
    expect(run.at(4, wishes(lights(2, 4)))).toMatchObject([{ kind: 'admitted', wishes: [{ lamp: 2 }] }])
  })

  test('within one moment dark lamps go first, in whatever order they were asked', () => {
    const run = guard([10, 10, 10])
    run.at(0, wishes(lights(0, 1), lights(1, 2)))
    const said = run.at(1, wishes(lights(2, 3), darkens(0)))
    expect(said).toMatchObject([
      {
        kind: 'admitted',
        wishes: [
          { lamp: 0, state: { on: false } },
          { lamp: 2, state: { on: true } },
        ],
      },
    ])
    expect(said.length).toBe(1)
  })

  test('a lamp that is lit already may change without being counted again', () => {
    const run = guard([10, 10, 10])
    run.at(0, wishes(lights(0, 1), lights(1, 2)))
    expect(run.at(1, wishes(lights(0, 3), lights(1, 4)))).toMatchObject([
      { wishes: [{ lamp: 0 }, { lamp: 1 }] },
    ])
  })

  test('a lamp that was refused counts for nothing, and its dark neither', () => {
    const run = guard([10, 10, 10])
    run.at(0, wishes(lights(0, 1), lights(1, 2), lights(2, 3)))
    run.at(1, wishes(darkens(2)))
    expect(run.at(2, wishes(lights(2, 4)))).toMatchObject([{ wishes: [] }, { kind: 'refused', lamp: 2 }])
  })

  test('warn lights all three and reports the one too many', () => {
    const run = guard([10, 10, 10], { action: 'warn' })
    expect(run.at(0, wishes(lights(0, 1), lights(1, 2), lights(2, 3)))).toMatchObject([
      { kind: 'admitted', wishes: [{ lamp: 0 }, { lamp: 1 }, { lamp: 2 }] },
      { kind: 'exceeded', lamp: 2, supply: 'bench' },
    ])
  })
})

describe('steal', () => {
  const steals = (watts: number[]) => guard(watts, { action: 'steal' })

  test('the third lights, and the one lit longest goes dark for it', () => {
    const run = steals([10, 10, 10])
    run.at(0, wishes(lights(0, 1)))
    run.at(1, wishes(lights(1, 2)))
    const third = lights(2, 3)
    expect(run.at(2, wishes(third))).toEqual([
      { kind: 'admitted', wishes: [third] },
      { kind: 'stolen', lamp: 0, supply: 'bench' },
    ])
    expect(run.at(3, wishes(lights(0, 4)))).toMatchObject([{}, { kind: 'stolen', lamp: 1 }])
  })

  test('a lamp that was struck anew is lit since then', () => {
    const run = steals([10, 10, 10])
    run.at(0, wishes(lights(0, 1), lights(1, 2)))
    run.at(1, wishes(lights(0, 3)))
    expect(run.at(2, wishes(lights(2, 4)))).toMatchObject([{}, { kind: 'stolen', lamp: 1 }])
  })

  test('lamps of one moment take none from each other: the third of a chord is refused', () => {
    const run = steals([10, 10, 10])
    expect(run.at(0, wishes(lights(0, 1), lights(1, 2), lights(2, 3)))).toMatchObject([
      { wishes: [{ lamp: 0 }, { lamp: 1 }] },
      { kind: 'refused', lamp: 2 },
    ])
  })

  test('as many go as it takes, and none where all of them would not make room', () => {
    const run = steals([5, 5, 5, 15, 40])
    run.at(0, wishes(lights(0, 1), lights(1, 2), lights(2, 3)))
    expect(run.at(1, wishes(lights(3, 4)))).toMatchObject([
      { wishes: [{ lamp: 3 }] },
      { kind: 'stolen', lamp: 0 },
      { kind: 'stolen', lamp: 1 },
    ])
    expect(run.at(2, wishes(lights(4, 5)))).toMatchObject([{ wishes: [] }, { kind: 'refused', lamp: 4 }])
  })

  test('a note that has just lost its lamp takes none from another in that moment', () => {
    const run = steals([10, 10, 10, 10])
    run.at(0, wishes(lights(0, 1), lights(1, 2)))
    run.at(1, wishes(lights(2, 3)))
    expect(run.at(1, wishes(lights(3, 1)))).toMatchObject([{ wishes: [] }, { kind: 'refused', lamp: 3 }])
    expect(run.at(2, wishes(lights(3, 1)))).toMatchObject([
      { wishes: [{ lamp: 3 }] },
      { kind: 'stolen', lamp: 1 },
    ])
  })
})

describe('exactly at the limit nothing is refused for a rounding', () => {
  test.each([
    ['3 x 8 W at 12 V on 2 A', 12, 2, 1, [8, 8, 8]],
    ['10 x 0.1 W at 1 V on 1 A', 1, 1, 1, Array.from({ length: 10 }, () => 0.1)],
    ['3 x 1.1 W at 3.3 V on 1 A', 3.3, 1, 1, [1.1, 1.1, 1.1]],
    ['7 x 9.6 W at 12 V on 7 A used to 80 %', 12, 7, 0.8, Array.from({ length: 7 }, () => 9.6)],
  ])('%s', (_, volts, maxAmps, usable, watts) => {
    const run = guard([...watts, 0.001], { supplies: [{ id: 'bench', volts, maxAmps, usable }] })
    const said = run.at(0, wishes(...watts.map((_each, lamp) => lights(lamp, lamp + 1))))
    expect(said.map(({ kind }) => kind)).toEqual(['admitted'])
    expect(run.at(1, wishes(lights(watts.length, 99))).map(({ kind }) => kind)).toEqual([
      'admitted',
      'refused',
    ])
  })

  test('lighting and darkening a hundred thousand times leaves nothing behind', () => {
    const run = guard([8, 8, 8], { supplies: [{ id: 'bench', volts: 12, maxAmps: 2, usable: 1 }] })
    for (let n = 0; n < 100_000; n++) run.at(n, wishes(n % 2 ? darkens(n % 3) : lights(n % 3, n)))
    run.at(100_000, wishes(darkens(0), darkens(1), darkens(2)))
    expect(run.state.drawn).toEqual([0])
  })
})

test('each supply has its own limit', () => {
  const lamps = [0, 1].map((index) =>
    plantLamp(index, { watts: 20, supply: index === 0 ? 'bench' : 'shelf' }),
  )
  const run = guard([], { lamps, supplies: [BENCH, { ...BENCH, id: 'shelf', maxAmps: 2 }] })
  expect(run.at(0, wishes(lights(0, 1), lights(1, 2)))).toMatchObject([
    { kind: 'admitted', wishes: [{ lamp: 0 }] },
    { kind: 'refused', lamp: 1, supply: 'shelf' },
  ])
})
