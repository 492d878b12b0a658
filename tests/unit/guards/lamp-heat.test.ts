import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { LampHeat } from '../../../src/domain/rig.ts'
import { lampHeat } from '../../../src/guards/lamp-heat.ts'
import { plantLamp } from '../../support/glasshouse-lamps.ts'
import { checkProperty } from '../../support/property.ts'
import { StageRun } from '../../support/stage-run.ts'
import { darkens, lights, wishes } from '../../support/wishing.ts'

const SECOND = 1_000_000

function heat(...lamps: { watts: number; heat?: LampHeat }[]) {
  return new StageRun(lampHeat, { lamps: lamps.map((more, index) => plantLamp(index, more)) })
}

/** When lamp 0 was told which duty. */
function duties(run: ReturnType<typeof heat>): [seconds: number, duty: number][] {
  return run.said.flatMap(({ at, out }) =>
    out.wishes.flatMap(({ lamp, state }): [number, number][] =>
      lamp === 0 ? [[at / SECOND, state.on ? state.duty : 0]] : [],
    ),
  )
}

// m(t) = p (1 - e^(-t/T)) from cold: any textbook on heat. 20 W in the mean come to 10 W after T ln 2.
test('40 W at a duty of one half, which bears 10 W over ten seconds, is held to a quarter after 6.93 s', () => {
  const run = heat({ watts: 40, heat: { meanWatts: 10, seconds: 10 } })
  run.at(0, wishes(lights(0, 1, { duty: 0.5 })))
  run.runOut()
  expect(duties(run)).toEqual([
    [0, 0.5],
    [expect.closeTo(10 * Math.LN2, 5), 0.25],
  ])
  expect(run.said.at(-1)?.out.held).toEqual([0])
  expect(run.said.at(-1)?.out.wishes[0]?.state).toMatchObject({ strike: false, note: 1 })
})

test('struck again while it is warm it has no more; once it has cooled for its time it has', () => {
  const run = heat({ watts: 40, heat: { meanWatts: 10, seconds: 10 } })
  run.at(0, wishes(lights(0, 1, { duty: 0.5 })))
  run.at(8 * SECOND, wishes(lights(0, 2, { duty: 0.5 })))
  expect(duties(run).at(-1)).toEqual([8, 0.25])
  run.at(9 * SECOND, wishes(darkens(0)))
  run.at(19 * SECOND, wishes(lights(0, 3, { duty: 0.5 })))
  expect(duties(run).at(-1)).toEqual([19, 0.5])
  run.runOut()
  // From 10/e W: T ln((20 - 3.68) / 10).
  expect(duties(run).at(-1)?.[0]).toBeCloseTo(19 + 10 * Math.log((20 - 10 / Math.E) / 10), 5)
})

test('a thinner duty that is asked for is given, and ends the hold', () => {
  const run = heat({ watts: 40, heat: { meanWatts: 10, seconds: 10 } })
  run.at(0, wishes(lights(0, 1, { duty: 0.5 })))
  run.at(8 * SECOND, wishes(lights(0, 1, { duty: 0.1, strike: false })))
  expect(duties(run).at(-1)).toEqual([8, 0.1])
})

test('a lamp that says nothing of heat, or bears all it draws, is left alone', () => {
  const run = heat({ watts: 40 }, { watts: 10, heat: { meanWatts: 10, seconds: 1 } })
  run.at(0, wishes(lights(0, 1, { duty: 1 }), lights(1, 2, { duty: 1 })))
  expect(run.runOut()).toEqual([])
})

test('a pulse’s on part is held down with it', () => {
  const run = heat({ watts: 40, heat: { meanWatts: 10, seconds: 10 } })
  const drive = { kind: 'timer', rate: 65_536, prescaler: 256, top: 62_499, duty: 0.25 } as const
  run.at(0, wishes(lights(0, 1, { duty: 0.5, drive, flash: 3 })))
  run.runOut()
  expect(run.said.at(-1)?.out.wishes[0]?.state).toMatchObject({ duty: 0.25, drive: { duty: 0.125 } })
})

test('whatever is asked, the mean stays within what the lamp bears, and no lamp is given more than was asked', () => {
  const lamp = fc.record({
    watts: fc.double({ min: 1, max: 60, noNaN: true }),
    heat: fc.record({
      meanWatts: fc.double({ min: 0.5, max: 40, noNaN: true }),
      seconds: fc.double({ min: 0.1, max: 20, noNaN: true }),
    }),
  })
  const ask = fc.record({
    after: fc.integer({ min: 1, max: 8 * SECOND }),
    duty: fc.constantFrom(0, 0.05, 0.3, 0.5, 1),
  })
  checkProperty(
    'lamp heat',
    fc.property(lamp, fc.array(ask, { minLength: 1, maxLength: 20 }), (given, asks) => {
      const run = heat(given)
      let at = 0
      let most = 0
      for (const { after, duty } of asks) {
        at += after
        run.at(at, wishes(duty === 0 ? darkens(0) : lights(0, at, { duty })))
        most = Math.max(most, duty)
      }
      run.runOut()
      // The same law, step by step, by what lamps were told; a lamp that is asked anew may draw all of it for the microsecond in which it is noticed.
      const noticed = ((asks.length + 1) * given.watts * 1e-6) / given.heat.seconds
      let [mean, since, draws] = [0, 0, 0]
      for (const [seconds, duty] of duties(run)) {
        mean = draws + (mean - draws) * Math.exp((since - seconds) / given.heat.seconds)
        expect(mean).toBeLessThanOrEqual(given.heat.meanWatts * (1 + 1e-6) + noticed)
        expect(duty).toBeLessThanOrEqual(most)
        ;[since, draws] = [seconds, given.watts * duty]
      }
      // And for ever after.
      expect(Math.min(draws, Infinity)).toBeLessThanOrEqual(Math.max(given.heat.meanWatts, 0) + 1e-6)
    }),
  )
})
