import fc from 'fast-check'
import { expect, test } from 'vitest'
import { supplyGuard } from '../../../src/guards/supply.ts'
import { plantLamp } from '../../support/glasshouse-lamps.ts'
import { checkProperty } from '../../support/property.ts'
import { StageRun } from '../../support/stage-run.ts'
import { darkens, lights, wishes } from '../../support/wishing.ts'

const LAMPS = 6
// Whole milliwatts and milliamps, so that the test can add up without rounding.
const supply = fc.record({
  volts: fc.constantFrom(5, 12, 24),
  milliamps: fc.integer({ min: 100, max: 5000 }),
  percent: fc.integer({ min: 1, max: 100 }),
})
const lamp = fc.record({ supply: fc.nat(1), milliwatts: fc.integer({ min: 0, max: 30_000 }) })
const rig = fc.record({
  supplies: fc.array(supply, { minLength: 2, maxLength: 2 }),
  lamps: fc.array(lamp, { minLength: LAMPS, maxLength: LAMPS }),
})
type Rig = typeof rig extends fc.Arbitrary<infer T> ? T : never
const moment = fc.uniqueArray(fc.record({ lamp: fc.nat(LAMPS - 1), on: fc.boolean() }), {
  selector: (one) => one.lamp,
  minLength: 1,
})
const moments = fc.array(moment, { maxLength: 40 })

function guard({ supplies, lamps }: Rig, action: 'refuse' | 'steal' | 'warn') {
  return new StageRun(supplyGuard, {
    action,
    supplies: supplies.map(({ volts, milliamps, percent }, index) => {
      return { id: `s${index}`, volts, maxAmps: milliamps / 1000, usable: percent / 100 }
    }),
    lamps: lamps.map(({ supply: of, milliwatts }, index) =>
      plantLamp(index, { supply: `s${of}`, watts: milliwatts / 1000 }),
    ),
  })
}

function asked(list: typeof moment extends fc.Arbitrary<infer T> ? T : never) {
  return wishes(...list.map((one, index) => (one.on ? lights(one.lamp, index + 1) : darkens(one.lamp))))
}

test.each(['refuse', 'steal'] as const)(
  '%s: what is lit never draws more than its supply may give; only what would is refused',
  (action) => {
    checkProperty(
      `supply: never over, ${action}`,
      fc.property(rig, moments, (given, list) => {
        const run = guard(given, action)
        const lit = new Set<number>()
        // In hundred-thousandths of a watt: volts x milliamps x percent.
        const drawn = (of: number): number =>
          [...lit].reduce((sum, index) => {
            const one = given.lamps[index]
            return one?.supply === of ? sum + one.milliwatts * 100 : sum
          }, 0)
        const limit = (of: number): number => {
          const one = given.supplies[of]
          return one ? one.volts * one.milliamps * one.percent : 0
        }
        list.forEach((each, at) => {
          const said = run.at(at, asked(each))
          const answered = new Set<number>()
          for (const out of said) {
            const wished = out.kind === 'admitted' ? out.wishes : []
            for (const { lamp: index, state } of wished) {
              answered.add(index)
              if (state.on) lit.add(index)
              else lit.delete(index)
            }
          }
          const refused = said.flatMap((out) => (out.kind === 'refused' ? [out.lamp] : []))
          for (const out of said) if (out.kind === 'stolen') lit.delete(out.lamp)
          expect([...answered, ...refused].toSorted()).toEqual(each.map((one) => one.lamp).toSorted())
          for (const of of [0, 1]) expect(drawn(of)).toBeLessThanOrEqual(limit(of))
          for (const index of refused) {
            const one = given.lamps[index]
            expect(lit.has(index)).toBe(false)
            if (action === 'steal') continue
            expect(drawn(one?.supply ?? 0) + (one?.milliwatts ?? 0) * 100).toBeGreaterThan(
              limit(one?.supply ?? 0),
            )
          }
        })
      }),
      3000,
    )
  },
)

test('warn: everything is admitted as asked', () => {
  checkProperty(
    'supply: warn',
    fc.property(rig, moments, (given, list) => {
      const run = guard(given, 'warn')
      list.forEach((each, at) => {
        const admitted = run.at(at, asked(each)).flatMap((out) => (out.kind === 'admitted' ? out.wishes : []))
        expect(admitted.map((wish) => [wish.lamp, wish.state.on]).toSorted()).toEqual(
          each.map((one) => [one.lamp, one.on]).toSorted(),
        )
      })
    }),
  )
})
