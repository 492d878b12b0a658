import fc from 'fast-check'
import { expect, it } from 'vitest'
import type { LampChange } from '../../src/domain/lamp-state.ts'
import { createFlashFigures } from '../../src/guards/flash/flash-figures.ts'
import { createSupplyFigures } from '../../src/offline/supply-figures.ts'
import { dark, lit, PLANTS, plantRig } from '../support/lamp-changes.ts'
import { checkProperty } from '../support/property.ts'

const LAMPS = 3
const RATES = [2, 5, 10, 20, 50, 100, 440]
/** Moments of changes on whole milliseconds, at most one change a lamp; undefined is dark. */
const moments = fc
  .array(
    fc.record({
      wait: fc.constantFrom(1, 7, 10, 33, 34, 50, 100, 250, 333, 334, 1000),
      hz: fc.array(
        fc.constantFrom<number | undefined | 'stay'>(...RATES, undefined, undefined, 'stay', 'stay'),
        {
          minLength: LAMPS,
          maxLength: LAMPS,
        },
      ),
    }),
    { maxLength: 25 },
  )
  .map((steps) => {
    let ms = 0
    const rates: (number | undefined)[] = []
    return steps.map(({ wait, hz }) => {
      ms += wait
      const changes: LampChange[] = []
      hz.forEach((rate, lamp) => {
        // A pulsing lamp is not given another pulsing rate here, so that all edges stay on milliseconds.
        const held =
          rates[lamp] !== undefined && rates[lamp] < 60 && rate !== undefined && rate !== 'stay' && rate < 60
        if (rate === 'stay' || held) return
        rates[lamp] = rate
        changes.push(rate === undefined ? dark(lamp) : lit(lamp, rate))
      })
      return { ms, changes }
    })
  })

/** What is lit in each millisecond, lamp by lamp, from nothing but the definition. */
function lightByMs(
  given: readonly { ms: number; changes: readonly LampChange[] }[],
  end: number,
): boolean[][] {
  const lamps = Array.from({ length: LAMPS }, () => ({ hz: 0, since: 0 }))
  return Array.from({ length: end }, (_, ms) => {
    for (const { state, index } of given.find((moment) => moment.ms === ms)?.changes ?? []) {
      const lamp = lamps[index]!
      if (!state.on) lamps[index] = { hz: 0, since: 0 }
      else if (lamp.hz === 0 || lamp.hz >= 60) lamps[index] = { hz: state.realHz, since: ms }
      else lamp.hz = state.realHz
    }
    return lamps.map(({ hz, since }) => hz >= 60 || (hz > 0 && ((ms - since) * hz) % 1000 < 500))
  })
}

function naiveFlashes(light: readonly (readonly boolean[])[]): number {
  const times: number[][] = Array.from({ length: LAMPS + 1 }, () => [])
  let up = false
  light.forEach((now, ms) => {
    const before = light[ms - 1] ?? now.map(() => false)
    const fell = now.flatMap((on, lamp) => (before[lamp] && !on ? [lamp] : []))
    for (const lamp of fell) times[lamp]!.push(ms)
    if (fell.length > 0 && up) {
      times[LAMPS]!.push(ms)
      up = false
    }
    if (now.some((on, lamp) => on && !before[lamp])) up = true
  })
  const windows = times.flatMap((list) =>
    list.map((end) => list.filter((t) => t > end - 1000 && t <= end).length),
  )
  return Math.max(0, ...windows)
}

function naiveBand(given: readonly { ms: number; changes: readonly LampChange[] }[], end: number): number {
  const band = new Set<number>()
  for (let lamp = 0; lamp < LAMPS; lamp++) {
    const own = given.flatMap(({ ms, changes }) =>
      changes
        .filter(({ index }) => index === lamp)
        .map(({ state }) => ({ ms, hz: state.on ? state.realHz : 0 })),
    )
    const onsets = own.filter(({ hz }, i) => hz > 0 && !((own[i - 1]?.hz ?? 0) > 0)).map(({ ms }) => ms)
    const spans = own.flatMap(({ ms, hz }, i) => (hz >= 3 && hz <= 30 ? [[ms, own[i + 1]?.ms ?? end]] : []))
    onsets.forEach((ms, i) => {
      const gap = ms - onsets[i - 1]!
      if (gap >= 1000 / 30 && gap <= 1000 / 3) spans.push([ms - gap, ms])
    })
    for (const [from, to] of spans) for (let ms = from!; ms < to!; ms++) band.add(ms)
  }
  return band.size / 1000
}

it('flash figures are those of a count by hand, millisecond by millisecond', () => {
  checkProperty(
    'flash figures equal the naive count',
    fc.property(moments, fc.integer({ min: 1, max: 1500 }), (given, tail) => {
      const end = (given.at(-1)?.ms ?? 0) + tail
      const flash = createFlashFigures(PLANTS.slice(0, LAMPS))
      for (const { ms, changes } of given) flash.frame(ms * 1000, changes)
      const expected = {
        perSecondMax: naiveFlashes(lightByMs(given, end)),
        bandSeconds: naiveBand(given, end),
      }
      expect(flash.finish(end * 1000)).toMatchObject(expected)
    }),
  )
})

it('the peak is the largest sum of lit lamps there ever was, the mean their average', () => {
  const watts = [10, 25, 7]
  checkProperty(
    'supply figures equal the naive sums',
    fc.property(moments, (given) => {
      const end = (given.at(-1)?.ms ?? 0) + 10
      const figures = createSupplyFigures(plantRig(...watts))
      const on = [0, 0, 0]
      let peak = 0
      let mean = 0
      given.forEach(({ ms, changes }, i) => {
        figures.frame(ms * 1000, changes)
        for (const { index, state } of changes) on[index] = state.on ? 1 : 0
        const amps = on.reduce((sum, lit, lamp) => sum + (lit * watts[lamp]!) / 12, 0)
        peak = Math.max(peak, amps)
        mean += (amps * 0.5 * ((given[i + 1]?.ms ?? end) - ms)) / end
      })
      const { peakAmps, meanAmps } = figures.finish(end * 1000).bench!
      expect(peakAmps).toBeCloseTo(peak, 5)
      expect(meanAmps).toBeCloseTo(mean, 5)
    }),
  )
})
