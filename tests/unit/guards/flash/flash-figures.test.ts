import { describe, expect, it } from 'vitest'
import type { LampChange } from '../../../../src/domain/lamp-state.ts'
import { createFlashFigures } from '../../../../src/guards/flash/flash-figures.ts'
import type { FlashFigure } from '../../../../src/guards/flash/flash-figures.ts'
import { dark, lit, PLANTS } from '../../../support/lamp-changes.ts'

type Moment = readonly [ms: number, ...changes: LampChange[]]

function whole(endMs: number, ...moments: readonly Moment[]): FlashFigure {
  const flash = createFlashFigures(PLANTS.slice(0, 4))
  for (const [ms, ...changes] of moments) flash.frame(ms * 1000, changes)
  return flash.finish(endMs * 1000)
}

function figures(endMs: number, ...moments: readonly Moment[]): unknown {
  const { perSecondMax, bandSeconds } = whole(endMs, ...moments)
  return { perSecondMax, bandSeconds }
}

/** On and off again `times` times, every `everyMs`, half the time lit. */
function gated(lamp: number, hz: number, everyMs: number, times: number, fromMs = 0): Moment[] {
  return Array.from({ length: times }, (_, i) => fromMs + i * everyMs).flatMap((ms): Moment[] => [
    [ms, lit(lamp, hz)],
    [ms + everyMs / 2, dark(lamp)],
  ])
}

const sorted = (...moments: Moment[]): Moment[] => moments.sort((a, b) => a[0] - b[0])

// Counted by hand. A flash is a pair of opposing changes (WCAG 2.2, success criterion 2.3.1).
describe('flashes', () => {
  it('are none for a note at 440 Hz that is held, one when it ends', () => {
    expect(figures(5000, [0, lit(0, 440)])).toEqual({ perSecondMax: 0, bandSeconds: 0 })
    expect(figures(5000, [0, lit(0, 440)], [4000, dark(0)])).toEqual({ perSecondMax: 1, bandSeconds: 0 })
  })

  it('are ten a second for a lamp gated ten times a second', () => {
    // Twenty onsets, so nineteen gaps of 0.1 s.
    expect(figures(5000, ...gated(0, 440, 100, 20))).toEqual({ perSecondMax: 10, bandSeconds: 1.9 })
  })

  it('are the pulses themselves for a note of 20 Hz, which is in the band as long as it lasts', () => {
    expect(figures(5000, [0, lit(0, 20)], [3000, dark(0)])).toEqual({ perSecondMax: 20, bandSeconds: 3 })
  })

  it('are 41 or 42 in a second for the low E of a bass, out of the band', () => {
    const low = figures(5000, [0, lit(0, 41.203)], [3000, dark(0)])
    expect(low).toEqual({ perSecondMax: 42, bandSeconds: 0 })
  })

  it('end at 60 Hz', () => {
    expect(figures(2000, [0, lit(0, 59)], [2000, dark(0)])).toMatchObject({ perSecondMax: 59 })
    expect(figures(2000, [0, lit(0, 60)], [2000, dark(0)])).toMatchObject({ perSecondMax: 1 })
  })

  it('count a pulse that is cut short', () => {
    expect(figures(1000, [0, lit(0, 20)], [10, dark(0)])).toEqual({ perSecondMax: 1, bandSeconds: 0.01 })
  })

  it('do not count light that is only steered: a retuned lamp, a struck one', () => {
    const moments = [0, 100, 200, 300].map((ms): Moment => [ms, lit(0, 440 + ms)])
    expect(figures(1000, ...moments, [500, dark(0)])).toEqual({ perSecondMax: 1, bandSeconds: 0 })
  })

  it('count four lamps gated in the same moments once', () => {
    const moments = gated(0, 440, 100, 20).map(([ms, change]): Moment => [
      ms,
      ...[0, 1, 2, 3].map((index) => ({ ...change!, index })),
    ])
    expect(figures(5000, ...moments)).toEqual({ perSecondMax: 10, bandSeconds: 1.9 })
  })

  it('count two lamps that take turns as two', () => {
    // Lit 0-250, 500-750 and so on; the other 250 ms later: at each 250 ms light jumps.
    const moments = Array.from({ length: 8 }, (_, i): Moment => [i * 250, lit(i % 2, 440), dark((i + 1) % 2)])
    expect(figures(3000, ...moments, [2000, dark(1)])).toMatchObject({ perSecondMax: 4 })
  })

  it('count a chord built up and taken away lamp by lamp once', () => {
    const moments = [0, 1, 2, 3].flatMap((lamp): Moment[] => [
      [lamp * 50, lit(lamp, 440)],
      [500 + lamp * 50, dark(lamp)],
    ])
    expect(figures(1000, ...sorted(...moments))).toEqual({ perSecondMax: 1, bandSeconds: 0 })
  })

  it('count the same lamp up to a second apart, not a second apart', () => {
    expect(figures(5000, ...gated(0, 440, 1000, 3))).toMatchObject({ perSecondMax: 1 })
    expect(figures(5000, ...gated(0, 440, 999, 3))).toMatchObject({ perSecondMax: 2 })
  })
})

describe('time in the band', () => {
  it('counts no moment twice where lamps overlap', () => {
    // 20 Hz from 0 to 1 s, gated at 10 Hz from 0.8 to 1.7 s (ten onsets), 5 Hz from 1.5 to 2 s.
    const moments = sorted(
      [0, lit(0, 20)],
      [1000, dark(0)],
      ...gated(1, 440, 100, 10, 800),
      [1500, lit(2, 5)],
      [2000, dark(2)],
    )
    const together = new Map<number, LampChange[]>()
    for (const [ms, ...changes] of moments) together.set(ms, [...(together.get(ms) ?? []), ...changes])
    const joined = [...together].map(([ms, changes]): Moment => [ms, ...changes])
    expect(figures(5000, ...joined)).toMatchObject({ bandSeconds: 2 })
  })

  it('holds its limits: 3 and 30 Hz in, a little beyond out', () => {
    for (const [hz, seconds] of [
      [2.99, 0],
      [3, 1],
      [30, 1],
      [30.1, 0],
    ] as const) {
      expect(figures(3000, [0, lit(0, hz)], [1000, dark(0)]), `${hz} Hz`).toMatchObject({
        bandSeconds: seconds,
      })
    }
  })

  it('takes onsets 333 ms apart, not 334, and 34 ms apart, not 32', () => {
    for (const [gap, seconds] of [
      [333, 0.333],
      [334, 0],
      [34, 0.034],
      [32, 0],
    ] as const) {
      expect(figures(3000, ...gated(0, 440, gap, 2)), `${gap} ms`).toMatchObject({ bandSeconds: seconds })
    }
  })

  it('goes on while the lamp stays lit at the end', () => {
    expect(figures(2500, [500, lit(0, 10)])).toMatchObject({ bandSeconds: 2 })
  })
})
