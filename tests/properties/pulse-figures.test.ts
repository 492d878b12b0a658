import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { LampChange } from '../../src/domain/lamp-state.ts'
import { createFlashFigures } from '../../src/guards/flash/flash-figures.ts'
import { dark, lit, PLANTS } from '../support/lamp-changes.ts'
import { checkProperty } from '../support/property.ts'
import { renderedLight } from '../support/rendered-light.ts'

const LAMPS = 2
const TIMER = { kind: 'timer', rate: 1, prescaler: 256, top: 9 } as const
const BEND = { kind: 'bend', key: 0, bend: 0 } as const

/** Twice the period, and as long an on part: no flash follows by itself for so long. */
const SINGLE = { ...TIMER, duty: 0.25 } as const

/** What a lamp is told: a flash of a pulse begins (on a timer), with or without another after it by itself, the flash before is said again, a pulse by MIDI, or dark. */
type Told = { readonly hz: number; readonly way: 'flash' | 'single' | 'again' | 'midi' } | 'dark' | 'stay'

const told = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({
      hz: fc.constantFrom(2, 4, 5, 10, 20),
      way: fc.constantFrom('flash' as const, 'single' as const),
    }),
  },
  fc.record({ hz: fc.constantFrom(2, 5, 10), way: fc.constant('again' as const) }),
  fc.record({ hz: fc.constantFrom(10, 20), way: fc.constant('midi' as const) }),
  fc.constantFrom('dark' as const, 'stay' as const),
)
const moments = fc.array(
  fc.record({
    wait: fc.constantFrom(1, 20, 33, 34, 50, 100, 125, 200, 250, 333, 334, 500, 700),
    lamps: fc.array(told, { minLength: LAMPS, maxLength: LAMPS }),
  }),
  { maxLength: 30 },
)

interface Change {
  readonly ms: number
  readonly lamp: number
  /** 0: dark. */
  readonly hz: number
  /** Periods of a pulse that the lamp's own lasts. */
  readonly long: number
  /** Whether its light begins there. */
  readonly begins: boolean
  readonly change: LampChange
}

/** Moments as changes, and what each is by the contract alone: a told flash begins, all else goes on as it was. */
function changesOf(given: readonly { wait: number; lamps: readonly Told[] }[]): Change[] {
  const now = Array.from({ length: LAMPS }, () => ({
    hz: 0,
    flash: 0,
    drive: TIMER as typeof TIMER | typeof SINGLE | typeof BEND,
  }))
  let ms = 0
  return given.flatMap(({ wait, lamps }) => {
    ms += wait
    return lamps.flatMap((one, lamp): Change[] => {
      const last = now[lamp]!
      if (one === 'stay') return []
      if (one === 'dark') {
        last.hz = 0
        return [{ ms, lamp, hz: 0, long: 1, begins: false, change: dark(lamp) }]
      }
      const { hz, way } = one
      // Said again is as it was, or no flash at all would have been begun; a rate that moves in mid-phase would leave whole milliseconds.
      if (way === 'again' && (last.hz === 0 || last.drive === BEND)) return []
      if (way === 'midi' && last.hz !== 0) return []
      const flash = way === 'again' ? last.flash : last.flash + 1
      const rate = way === 'again' ? last.hz : hz
      const drive = { flash: TIMER, single: SINGLE, midi: BEND, again: last.drive }[way]
      const begins = last.hz === 0 || way === 'flash' || way === 'single'
      const long = drive === SINGLE ? 2 : 1
      now[lamp] = { hz: rate, flash, drive }
      const change = lit(lamp, rate, 0.5, { flash, drive, strike: false })
      return [{ ms, lamp, hz: rate, long, begins, change }]
    })
  })
}

/** Whether a lamp is lit in each millisecond, from nothing but when its light began and at which rate. */
function lightOf(changes: readonly Change[], lamp: number, end: number): boolean[] {
  let [hz, since, long] = [0, 0, 1]
  return Array.from({ length: end }, (_, ms) => {
    for (const change of changes.filter((one) => one.lamp === lamp && one.ms === ms)) {
      hz = change.hz
      long = change.long
      if (change.begins) since = ms
    }
    return hz > 0 && ((ms - since) * hz) % (1000 * long) < 500
  })
}

function most(times: readonly number[]): number {
  return Math.max(0, ...times.map((end) => times.filter((t) => t > end - 1000 && t <= end).length))
}

function naive(changes: readonly Change[], end: number) {
  const lights = Array.from({ length: LAMPS }, (_, lamp) => lightOf(changes, lamp, end))
  const band = new Set<number>()
  const field: number[] = []
  const falls = lights.map((light, lamp) => {
    const own = changes.filter((one) => one.lamp === lamp)
    own.forEach(({ ms, hz }, at) => {
      if (hz >= 3 && hz <= 30) for (let t = ms; t < (own[at + 1]?.ms ?? end); t++) band.add(t)
    })
    const onsets = own.filter(({ begins }) => begins).map(({ ms }) => ms)
    onsets.forEach((ms, at) => {
      const gap = ms - onsets[at - 1]!
      if (gap >= 1000 / 30 && gap <= 1000 / 3) for (let t = ms - gap; t < ms; t++) band.add(t)
    })
    return light.flatMap((on, ms) => (!on && light[ms - 1] === true ? [ms] : []))
  })
  let isUp = false
  for (let ms = 0; ms < end; ms++) {
    const was = lights.map((light) => light[ms - 1] === true)
    if (lights.some((light, lamp) => was[lamp] && light[ms] !== true)) {
      if (isUp) field.push(ms)
      isUp = false
    }
    if (lights.some((light, lamp) => !was[lamp] && light[ms] === true)) isUp = true
  }
  return { perSecondMax: Math.max(most(field), ...falls.map(most)), bandSeconds: band.size / 1000 }
}

test('flashes of pulses, told one by one, are counted as a count by hand does, millisecond by millisecond', () => {
  let begun = 0
  checkProperty(
    'figures of pulses equal the naive count',
    fc.property(moments, fc.integer({ min: 1, max: 1500 }), (given, tail) => {
      const changes = changesOf(given)
      const end = (changes.at(-1)?.ms ?? 0) + tail
      const flash = createFlashFigures(PLANTS.slice(0, LAMPS))
      for (const ms of new Set(changes.map((one) => one.ms))) {
        const own = changes.filter((one) => one.ms === ms)
        begun += own.filter(({ begins }) => begins).length
        flash.frame(
          ms * 1000,
          own.map(({ change }) => change),
        )
      }
      expect(flash.finish(end * 1000)).toMatchObject(naive(changes, end))
    }),
  )
  expect(begun).toBeGreaterThan(1000)
})

test('the pickup hears a told flash as a lamp put out and lit again in one moment', () => {
  checkProperty(
    'sound of told flashes',
    fc.property(
      fc.array(
        fc.record({ wait: fc.integer({ min: 500, max: 90_000 }), hz: fc.constantFrom(3, 7, 25, 29.9) }),
        {
          minLength: 1,
          maxLength: 8,
        },
      ),
      (given) => {
        let at = 0
        const times = given.map(({ wait, hz }) => ({ at: (at += wait), hz }))
        const end = at + 60_000
        const flashes = times.map(({ at: t, hz }) => ({ index: 0, at: t, hz, duty: 0.3, begins: true }))
        const relit = times.flatMap(({ at: t, hz }) => [
          { index: 0, at: t, dark: true as const },
          { index: 0, at: t, hz, duty: 0.3 },
        ])
        const [heard, wanted] = [renderedLight(1, flashes, end), renderedLight(1, relit, end)]
        expect(heard.length).toBe(wanted.length)
        expect(Math.max(...heard.map((sample, place) => Math.abs(sample - wanted[place]!)))).toBeLessThan(
          1e-6,
        )
      },
    ),
    60,
  )
})
