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

describe('time under 60 Hz', () => {
  it('takes onsets 16,667 us apart, not 16,666, and a second apart, not more', () => {
    for (const [gap, seconds] of [
      [16_666, 0],
      [16_667, 0.016_667],
      [1_000_000, 1],
      [1_000_001, 0],
    ] as const) {
      const flash = createFlashFigures(['fern'])
      flash.frame(0, [lit(0, 440)])
      flash.frame(gap - 1000, [dark(0)])
      flash.frame(gap, [lit(0, 440)])
      expect(flash.finish(gap), `${gap} us`).toMatchObject({ under60Seconds: seconds, bandSeconds: 0 })
    }
  })

  it('takes rates under 60 Hz, however slow', () => {
    for (const [hz, seconds] of [
      [0.4, 2],
      [59.99, 2],
      [60, 0],
    ] as const)
      expect(whole(3000, [0, lit(0, hz)], [2000, dark(0)]), `${hz} Hz`).toMatchObject({
        under60Seconds: seconds,
      })
  })
})

describe('an edge between two microseconds', () => {
  it('belongs to the nearest, whose change may do away with it', () => {
    // Half of 200,001.4 us: it would go out at 100,000.7, and the next flash of its pulse begins at 100,001.
    const hz = 1e6 / 200_001.4
    const flash = createFlashFigures(['fern'])
    flash.frame(0, [lit(0, hz, 0.5, { flash: 1 })])
    flash.frame(100_001, [lit(0, hz, 0.5, { flash: 2 })])
    expect(flash.finish(150_000).perSecondMax).toBe(0)
    expect(flash.finish(200_003).perSecondMax).toBe(1)
  })

  it('is the same for every pulse where all are half-way', () => {
    // 20 Hz, a third of it on to four places: out at 16,665.5 us and every 50,000 us from there.
    expect(whole(9000, [0, lit(0, 20, 0.333_31)])).toMatchObject({ perSecondMax: 20 })
  })
})

describe('a lamp that glows between notes', () => {
  const glow = (lamp: number): LampChange => lit(lamp, 25_000, 0.5, { glow: true, note: 0, strike: false })

  it('is steady light: notes gated ten times a second are no flash, and no onset but the first', () => {
    const moments = Array.from({ length: 20 }, (_, time): Moment[] => [
      [time * 100, lit(0, 440)],
      [time * 100 + 50, glow(0)],
    ]).flat()
    const { lamps, ...field } = whole(5000, ...moments, [4000, dark(0)])
    expect(field).toEqual({
      perSecondMax: 1,
      bandSeconds: 0,
      fieldPerSecondMax: 1,
      under60Seconds: 0,
      litShareMax: 0.25,
      flashShareMax: 0.25,
    })
    // Twelve steps to the octave from 440 Hz: 25 kHz is nearest to 70 above, 25,087.7 Hz.
    expect(lamps['fern']).toMatchObject({
      litSeconds: 4,
      rates: [
        { hz: 25_087.7079, seconds: 3 },
        { hz: 440, seconds: 1 },
      ],
    })
  })

  it('flashes while it sounds a slow note: its light goes out within it', () => {
    const { lamps } = whole(3000, [0, glow(0)], [500, lit(0, 10)], [1500, glow(0)])
    // Lit from 0 on, on from 500 to 550, 600 to 650 ...: ten falls, the last at 1450.
    expect(lamps['fern']).toMatchObject({
      perSecondMax: 10,
      bandSeconds: 1,
      under60Seconds: 1,
      litSeconds: 3,
    })
  })

  it('goes on to the flash of a pulse without an onset', () => {
    const flash = (ms: number, count: number): Moment => [ms, lit(0, 440, 0.5, { flash: count })]
    // The flash that met light is no onset: of the three that follow the second and the third are 0.2 s apart.
    const flashes = [flash(1000, 1), flash(1200, 2), flash(1400, 3)]
    expect(figures(3000, [0, glow(0)], ...flashes, [1800, glow(0)])).toEqual({
      perSecondMax: 0,
      bandSeconds: 0.2,
    })
  })
})

describe('what may be asked while it goes on', () => {
  it('is the second that ends now, half-open, and lit lamps as they are', () => {
    const flash = createFlashFigures(PLANTS.slice(0, 4))
    // Falls at 125, 375, 625 and 875 ms.
    for (const [ms, ...changes] of gated(0, 440, 250, 4)) flash.frame(ms * 1000, changes)
    flash.frame(1_050_000, [lit(1, 440), lit(2, 440)])
    expect(flash.now(1_124_999)).toMatchObject({ lastSecond: 4, litShare: 0.5 })
    expect(flash.now(1_125_000)).toMatchObject({ lastSecond: 3, perSecondMax: 4 })
    expect(flash.now(1_875_000)).toMatchObject({ lastSecond: 0, litShare: 0.5, litShareMax: 0.5 })
    expect(() => flash.frame(1_874_999, [])).toThrow('a moment at 1874999 us comes after one at 1875000 us')
  })

  it('has the pulses of a note that only goes on', () => {
    const flash = createFlashFigures(PLANTS.slice(0, 4))
    flash.frame(0, [lit(0, 20)])
    // Falls at 25 ms and every 50 ms from there.
    expect(flash.now(1_000_000)).toMatchObject({ lastSecond: 20, bandSeconds: 1 })
    expect(flash.now(3_600_000_000)).toMatchObject({ lastSecond: 20, perSecondMax: 20, bandSeconds: 3600 })
  })

  it('names the lamps that flashed, the worst first, and none that did not', () => {
    const flash = createFlashFigures(PLANTS.slice(0, 4))
    flash.frame(0, [lit(0, 40), lit(1, 440), lit(3, 20)])
    const { lamps } = flash.now(1_000_000)
    expect(lamps).toEqual([
      { lamp: PLANTS[0], lastSecond: 40, perSecondMax: 40, bandSeconds: 0, under60Seconds: 1 },
      { lamp: PLANTS[3], lastSecond: 20, perSecondMax: 20, bandSeconds: 1, under60Seconds: 1 },
    ])
  })
})

describe('a song that begins', () => {
  it('begins the count anew with the lamps as they are', () => {
    const flash = createFlashFigures(PLANTS.slice(0, 4))
    for (const [ms, ...changes] of gated(0, 440, 100, 20)) flash.frame(ms * 1000, changes)
    flash.frame(2_000_000, [lit(1, 20), lit(2, 440)])
    flash.renew(3_000_000)
    expect(flash.finish(3_000_000)).toMatchObject({ perSecondMax: 0, bandSeconds: 0, litShareMax: 0 })
    flash.frame(3_500_000, [dark(2)])
    // Moss is at 20 Hz from the beginning on, half of it lit: its first fall is at 3.025 s.
    const { lamps, ...field } = flash.finish(4_000_000)
    expect(field).toMatchObject({ perSecondMax: 20, bandSeconds: 1, litShareMax: 0.5 })
    expect(lamps['moss']).toMatchObject({ perSecondMax: 20, litSeconds: 1, bandSeconds: 1 })
    expect(lamps['reed']).toMatchObject({
      perSecondMax: 1,
      litSeconds: 0.5,
      rates: [{ hz: 440, seconds: 0.5 }],
    })
    expect(lamps['fern']).toMatchObject({ perSecondMax: 0, litSeconds: 0, rates: [] })
  })
})
