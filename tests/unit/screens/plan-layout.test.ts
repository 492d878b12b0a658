import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Area, Hanging, PlanLayout } from '../../../app/screens/stage/plan-layout.ts'
import { planLayout } from '../../../app/screens/stage/plan-layout.ts'
import { demoShow } from '../../support/demo.ts'
import { checkProperty } from '../../support/property.ts'

const WIDE: Area = { width: 1048, height: 344 }
const UPRIGHT: Area = { width: 780, height: 560 }

/** Pairs of plates that overlap, by more than a rounding. */
function overlaps({ plate, spots }: PlanLayout): string[] {
  return spots.flatMap((a, one) =>
    spots.slice(one + 1).flatMap((b, more) => {
      const isApart =
        Math.abs(a.left - b.left) > plate.width - 0.1 || Math.abs(a.top - b.top) > plate.height - 0.1
      return isApart ? [] : [`${one} and ${one + 1 + more}`]
    }),
  )
}

function outside({ plate, spots, height }: PlanLayout, { width }: Area): number {
  return spots.filter(
    ({ left, top }) =>
      left < -0.1 || top < -0.1 || left + plate.width > width + 0.1 || top + plate.height > height + 0.1,
  ).length
}

describe('the plan of lamps', () => {
  const demo = demoShow().rig.lamps

  it.each([WIDE, UPRIGHT, { width: 792, height: 312 }])(
    'shows the demo with notes of 28 pixels and more, nothing overlapping, in $width x $height',
    (area) => {
      const layout = planLayout(demo, area)
      expect(['broad', 'full', 'narrow']).toContain(layout.plate.size)
      expect(overlaps(layout)).toEqual([])
      expect(outside(layout, area)).toBe(0)
    },
  )

  it('keeps both axes at one scale, right is right and up is up', () => {
    const square: Hanging[] = [
      { x: 0, y: 0 },
      { x: 4, y: 0 },
      { x: 0, y: 1 },
      { x: 4, y: 1 },
    ]
    const { spots } = planLayout(square, { width: 1600, height: 900 })
    const [a, b, c] = spots
    const across = (b?.left ?? 0) - (a?.left ?? 0)
    const up = (a?.top ?? 0) - (c?.top ?? 0)
    expect(across).toBeGreaterThan(0)
    expect(across / up).toBeCloseTo(4, 6)
  })

  it('staggers a long row rather than leave out readings', () => {
    const row = Array.from({ length: 16 }, (_, x) => ({ x, y: 0 }))
    const layout = planLayout(row, WIDE)
    expect(layout.plate.size).toBe('narrow')
    expect(overlaps(layout)).toEqual([])
    expect(layout.spots.map(({ left }) => left)).toEqual(
      layout.spots.map(({ left }) => left).toSorted((a, b) => a - b),
    )
  })

  it('has room for 64 lamps in four rows', () => {
    const lamps = Array.from({ length: 64 }, (_, index) => ({ x: index % 16, y: Math.floor(index / 16) }))
    const layout = planLayout(lamps, WIDE)
    expect(overlaps(layout)).toEqual([])
    expect(outside(layout, WIDE)).toBe(0)
    expect(layout.height).toBe(WIDE.height)
  })

  it('stands lamps that all hang in one place in a row, in their order', () => {
    const lamps = Array.from({ length: 4 }, () => ({ x: 0, y: 0 }))
    const layout = planLayout(lamps, WIDE)
    expect(layout.plate.size).toBe('broad')
    expect(overlaps(layout)).toEqual([])
    expect(new Set(layout.spots.map(({ top }) => top)).size).toBe(1)
    expect(layout.spots[0]?.left).toBeLessThan(layout.spots[3]?.left ?? 0)
  })

  it('grows downwards where even the least plates do not fit', () => {
    const lamps = Array.from({ length: 512 }, () => ({ x: 0, y: 0 }))
    const layout = planLayout(lamps, WIDE)
    expect(layout.height).toBeGreaterThan(WIDE.height)
    expect(overlaps(layout)).toEqual([])
    expect(outside(layout, WIDE)).toBe(0)
  })

  it('hangs one lamp in the middle, and takes none', () => {
    const { plate, spots } = planLayout([{ x: 7, y: -3 }], WIDE)
    expect(spots).toEqual([{ left: (WIDE.width - plate.width) / 2, top: (WIDE.height - plate.height) / 2 }])
    expect(planLayout([], WIDE).spots).toEqual([])
  })

  it('never lets plates overlap, leave the plan, or be lost, wherever lamps hang', () => {
    const place = fc.record({
      x: fc.double({ min: -1e4, max: 1e4, noNaN: true }),
      y: fc.double({ min: -1e4, max: 1e4, noNaN: true }),
    })
    const area = fc.record({
      width: fc.integer({ min: 300, max: 2000 }),
      height: fc.integer({ min: 150, max: 1200 }),
    })
    checkProperty(
      'plates apart',
      fc.property(fc.array(place, { maxLength: 40 }), area, (lamps, space) => {
        const layout = planLayout(lamps, space)
        expect(layout.spots).toHaveLength(lamps.length)
        expect(overlaps(layout)).toEqual([])
        expect(outside(layout, space)).toBe(0)
      }),
    )
  })
})
