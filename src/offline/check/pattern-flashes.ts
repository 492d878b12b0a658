import type { Pattern, PatternRow } from '../../domain/pattern.ts'
import type { Micros } from '../../domain/units.ts'
import { MICROS_PER_SECOND } from '../../domain/units.ts'

/** The most that goes dark within any one second. */
export interface PatternFlashes {
  /** Of one lamp. */
  readonly lamp: number
  /** Moments at which some lamp does. */
  readonly field: number
}

/** A pattern whose rows meet only after more steps than this is looked at so far. */
const MOST_STEPS = 2_000

interface Strike {
  readonly at: Micros
  readonly ends: Micros
}

/** Goes through a pattern that the clock moves every `step` microseconds, whatever chance does. Rows that are muted, and no pad lets sound, are left out. */
export function patternFlashes(pattern: Pattern, step: Micros): PatternFlashes {
  const rows = pattern.rows.filter(({ id, muted }) => !muted || pattern.pads.some((pad) => hasRow(pad, id)))
  // Swing comes every second step, so that an odd round is another the second time.
  const round = Math.min(
    MOST_STEPS,
    2 * rows.reduce((all, { steps }) => commonMultiple(all, steps.length), 1),
  )
  const length = round + Math.ceil(MICROS_PER_SECOND / step)
  const byLamp = new Map<string, Strike[]>()
  for (const row of rows) {
    const known = byLamp.get(row.lamp) ?? []
    byLamp.set(row.lamp, known.concat(strikesOf(row, pattern, step, length)))
  }
  const darks = [...byLamp.values()].map(darkTimes)
  const field = [...new Set(darks.flat())].sort((a, b) => a - b)
  return { lamp: Math.max(0, ...darks.map(mostInASecond)), field: mostInASecond(field) }
}

function hasRow(pad: Pattern['pads'][number], id: string): boolean {
  return pad.do === 'mute-row' && pad.row === id
}

function strikesOf(row: PatternRow, pattern: Pattern, step: Micros, length: number): Strike[] {
  const swing = row.swing ?? pattern.swing
  return Array.from({ length }, (_, place) => place).flatMap((place): Strike[] => {
    const one = row.steps[place % row.steps.length] ?? 0
    if (one === 0 || one.chance === 0) return []
    const at = place + (place % 2 === 1 ? swing : 0)
    const ends = at + (one.gate ?? pattern.gate)
    return [{ at: Math.round(at * step), ends: Math.round(ends * step) }]
  })
}

/** When a lamp goes dark: a strike that comes before the last one is over leaves no darkness between. */
function darkTimes(strikes: readonly Strike[]): Micros[] {
  const inOrder = strikes.toSorted((a, b) => a.at - b.at)
  return inOrder.flatMap(({ ends }, index) => {
    const next = inOrder[index + 1]
    return next && next.at <= ends ? [] : [ends]
  })
}

function mostInASecond(times: readonly Micros[]): number {
  let first = 0
  let most = 0
  times.forEach((time, index) => {
    while ((times[first] ?? time) <= time - MICROS_PER_SECOND) first++
    most = Math.max(most, index - first + 1)
  })
  return most
}

function commonMultiple(a: number, b: number): number {
  return Math.min(MOST_STEPS, (a / commonDivisor(a, b)) * b)
}

function commonDivisor(a: number, b: number): number {
  return b === 0 ? a : commonDivisor(b, a % b)
}
