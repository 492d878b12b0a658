import { describe, expect, it } from 'vitest'
import { createSupplyFigures } from '../../../src/offline/supply-figures.ts'
import { dark, lit, plantRig } from '../../support/lamp-changes.ts'

describe('what the lamps draw', () => {
  it('is 2.5 A at most for three lamps of 10 W on 12 V, however short they meet', () => {
    const figures = createSupplyFigures(plantRig(10, 10, 10))
    figures.frame(0, [lit(0, 440, 0.5)])
    figures.frame(1_000_000, [lit(1, 440, 0.1), lit(2, 440, 0.2)])
    figures.frame(1_000_001, [dark(0), dark(1), dark(2)])
    expect(figures.finish(2_000_000).bench!.peakAmps).toBe(2.5)
  })

  it('averages amps times duty over the whole time', () => {
    // 12 W = 1 A at 0.5 for 2 s, then at 0.25 for 1 s, and 24 W = 2 A at 0.1 for 1 s: 1.45 As in 4 s.
    const figures = createSupplyFigures(plantRig(12, 24))
    figures.frame(0, [lit(0, 440, 0.5)])
    figures.frame(1_000_000, [lit(1, 440, 0.1)])
    figures.frame(2_000_000, [lit(0, 440, 0.25), dark(1)])
    figures.frame(3_000_000, [dark(0)])
    expect(figures.finish(4_000_000).bench).toEqual({ peakAmps: 3, meanAmps: 0.3625 })
  })

  it('does not add a lamp that goes dark in the moment another lights', () => {
    const figures = createSupplyFigures(plantRig(12, 12))
    figures.frame(0, [lit(0, 440)])
    figures.frame(500_000, [lit(1, 440), dark(0)])
    figures.frame(1_000_000, [dark(1)])
    expect(figures.finish(1_000_000).bench).toEqual({ peakAmps: 1, meanAmps: 0.5 })
  })

  it('counts lamps still lit at the end, and nothing for a silent take', () => {
    const figures = createSupplyFigures(plantRig(12))
    expect(figures.finish(0).bench).toEqual({ peakAmps: 0, meanAmps: 0 })
    figures.frame(0, [lit(0, 440, 0.5)])
    expect(figures.finish(10).bench).toEqual({ peakAmps: 1, meanAmps: 0.5 })
  })

  it('names a lamp on a supply that is not there', () => {
    const rig = { ...plantRig(12), supplies: [] }
    expect(() => createSupplyFigures(rig)).toThrow('lamp fern: there is no supply bench in the rig')
  })
})
