/** Where a lamp hangs, in the show's units: x to the right, y up. */
export interface Hanging {
  readonly x: number
  readonly y: number
}

/** In CSS pixels. */
export interface Area {
  readonly width: number
  readonly height: number
}

/** The plate of a lamp: its figure with what stands below it. */
export interface Plate extends Area {
  readonly size: 'broad' | 'full' | 'narrow' | 'small' | 'least'
}

/** The top left corner of a lamp's plate. */
export interface Spot {
  readonly left: number
  readonly top: number
}

export interface PlanLayout {
  readonly plate: Plate
  readonly spots: readonly Spot[]
  /** As high as was asked, or higher where even the least plates need more. */
  readonly height: number
}

/** Largest first; how much each of them says is up to who draws it. */
const PLATES: readonly [Plate, ...Plate[]] = [
  { size: 'broad', width: 164, height: 186 },
  { size: 'full', width: 132, height: 164 },
  { size: 'narrow', width: 96, height: 148 },
  { size: 'small', width: 76, height: 104 },
  { size: 'least', width: 58, height: 66 },
]
const LEAST = PLATES[PLATES.length - 1] ?? PLATES[0]
/** Of a plate's width, how far it may be pushed aside to make room before smaller plates are taken. */
const MOST_PUSH = 0.6
/** Plates as wide as this or less are rather staggered than made smaller again, in pixels. */
const STAGGERED = 96
const ROUNDS = 120
/** Plates hang no further apart than this, in widths of one, however few there are. */
const LOOSEST = 1.9

/**
 * A place on the plan for every lamp, as they hang: both axes at one scale, plates as large as can be without two of them overlapping, those too close pushed
 * a little aside. Lamps that hang too close for any plate, or all in one place, stand in rows, from the highest and leftmost on.
 */
export function planLayout(lamps: readonly Hanging[], area: Area): PlanLayout {
  if (areMostlyOne(lamps)) return rows(lamps, area)
  for (const plate of PLATES) {
    const hung = scaled(lamps, area, plate)
    const spots =
      pushed(hung, area, plate) ?? (plate.width <= STAGGERED ? staggered(hung, area, plate) : undefined)
    if (spots) return { plate, spots, height: area.height }
  }
  return rows(lamps, area)
}

/** Every second lamp, from left to right, half a plate lower and the others higher: a long row needs half the width. */
function staggered(hung: readonly Spot[], area: Area, plate: Plate): Spot[] | undefined {
  const order = hung
    .map(({ left, top }, index) => ({ left, top, index }))
    .toSorted((a, b) => a.left - b.left || a.top - b.top || a.index - b.index)
  const spots = [...hung]
  for (const [place, { left, top, index }] of order.entries()) {
    spots[index] = { left, top: top + (place % 2 === 0 ? -plate.height / 2 : plate.height / 2) }
  }
  return pushed(spots, area, plate)
}

function areMostlyOne(lamps: readonly Hanging[]): boolean {
  const places = new Set(lamps.map(({ x, y }) => `${x} ${y}`))
  return places.size <= lamps.length / 2
}

function scaled(lamps: readonly Hanging[], area: Area, plate: Plate): Spot[] {
  const xs = lamps.map(({ x }) => x)
  const ys = lamps.map(({ y }) => y)
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  const loosest = (lamps.length - 1) * plate.width * LOOSEST
  const scale = Math.min(
    right > left ? Math.min(area.width - plate.width, loosest) / (right - left) : Infinity,
    high > low ? Math.min(area.height - plate.height, loosest) / (high - low) : Infinity,
  )
  const by = Number.isFinite(scale) ? Math.max(0, scale) : 0
  const freeX = area.width - plate.width - (right - left) * by
  const freeY = area.height - plate.height - (high - low) * by
  return lamps.map(({ x, y }) => ({ left: freeX / 2 + (x - left) * by, top: freeY / 2 + (high - y) * by }))
}

/** Spots moved until no two plates overlap and all are inside; undefined where that takes too much. */
function pushed(wanted: readonly Spot[], area: Area, plate: Plate): Spot[] | undefined {
  if (plate.width > area.width || plate.height > area.height) return undefined
  const spots = wanted.map(({ left, top }) => ({ left, top }))
  let isApart = false
  for (let round = 0; round < ROUNDS && !isApart; round++) {
    for (const spot of spots) {
      spot.left = Math.min(Math.max(0, spot.left), area.width - plate.width)
      spot.top = Math.min(Math.max(0, spot.top), area.height - plate.height)
    }
    isApart = !pushOnce(spots, plate)
  }
  if (!isApart) return undefined
  const most = plate.width * MOST_PUSH
  const isFar = spots.some(({ left, top }, index) => {
    const from = wanted[index]
    return from !== undefined && Math.hypot(left - from.left, top - from.top) > most
  })
  return isFar ? undefined : spots
}

/** Less than this is no overlap. */
const NEAR = 0.01

/** Pushes overlapping pairs apart, the shorter way, each half of it; false: there were none. */
function pushOnce(spots: { left: number; top: number }[], plate: Plate): boolean {
  let isPushed = false
  for (let one = 0; one < spots.length; one++) {
    for (let other = one + 1; other < spots.length; other++) {
      const a = spots[one]
      const b = spots[other]
      if (!a || !b) continue
      const deepX = plate.width - Math.abs(a.left - b.left)
      const deepY = plate.height - Math.abs(a.top - b.top)
      if (deepX <= NEAR || deepY <= NEAR) continue
      isPushed = true
      if (deepX <= deepY) {
        const way = a.left <= b.left ? deepX / 2 : -deepX / 2
        a.left -= way
        b.left += way
      } else {
        const way = a.top <= b.top ? deepY / 2 : -deepY / 2
        a.top -= way
        b.top += way
      }
    }
  }
  return isPushed
}

function rows(lamps: readonly Hanging[], area: Area): PlanLayout {
  const columnsOf = (plate: Plate): number =>
    Math.min(Math.max(1, lamps.length), Math.max(1, Math.floor(area.width / plate.width)))
  const heightOf = (plate: Plate): number => Math.ceil(lamps.length / columnsOf(plate)) * plate.height
  const plate = PLATES.find((one) => one.width <= area.width && heightOf(one) <= area.height) ?? LEAST
  const columns = columnsOf(plate)
  const height = Math.max(area.height, heightOf(plate))
  const down = (height - heightOf(plate)) / 2
  const order = lamps
    .map(({ x, y }, index) => ({ x, y, index }))
    .toSorted((a, b) => b.y - a.y || a.x - b.x || a.index - b.index)
  const spots: Spot[] = lamps.map(() => ({ left: 0, top: 0 }))
  for (const [place, { index }] of order.entries()) {
    const row = Math.floor(place / columns)
    const inRow = Math.min(columns, lamps.length - row * columns)
    const aside = (area.width - inRow * plate.width) / 2
    spots[index] = { left: aside + (place % columns) * plate.width, top: down + row * plate.height }
  }
  return { plate, spots, height }
}
