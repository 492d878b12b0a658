import type { Micros } from '../domain/units.ts'
import { darkenThose } from './steps-lamps.ts'
import { nextDivision } from './steps-pads.ts'
import type { ReadyPattern, ReadySteps } from './steps-ready.ts'
import type { StepsState } from './steps-state.ts'
import { patternOf, showing, stepAt } from './steps-state.ts'
import type { LampView, StrategyStep } from './strategy.ts'

/**
 * Other patterns in the place of those there were, while they play. A pattern is the same by its id, a row of it by its own: it stays at its step, or, where it has
 * become too short for that, at that step counted round. What sounds ends when it would have, except from rows that are gone, are muted now, or have another lamp:
 * that ends at once. A pattern that is gone gives way to the one the part begins with, before its first step.
 */
export function revisePatterns(
  state: StepsState,
  ready: ReadySteps,
  view: LampView,
  now: Micros,
): StrategyStep<StepsState> {
  const before = patternOf(state)
  const same = ready.patterns.findIndex(({ id }) => id === before.id)
  const current = same < 0 ? ready.first : same
  const after = ready.patterns[current] as ReadyPattern
  const muted = ready.patterns.map((pattern) => mutedIn(state, pattern))
  const moved = same < 0 ? [] : movedRows(before, after)
  /** Where the row is now that sounds on; undefined: what it sounds is over. */
  const soundsOn = (row: number): number | undefined => {
    const to = moved[row] ?? -1
    const isOn = to >= 0 && before.rows[row]?.lamp === after.rows[to]?.lamp && muted[current]?.[to] !== true
    return isOn ? to : undefined
  }
  const { lamps, intents } = darkenThose(
    state.lamps,
    view,
    ({ row }) => row !== null && soundsOn(row) === undefined,
  )
  const next: StepsState = {
    ...state,
    ready,
    current,
    muted,
    place: same < 0 ? null : state.place,
    offsets: same < 0 ? [] : offsetsAfter(state, before, after, moved),
    lamps: lamps.map((one) =>
      one === null || one.row === null ? one : { ...one, row: soundsOn(one.row) ?? null },
    ),
    late: state.late.flatMap((one) => {
      if (one.row === null) return [one]
      const row = soundsOn(one.row)
      return row === undefined ? [] : [{ ...one, row }]
    }),
  }
  const isOtherTime = before.division !== after.division || before.advance !== after.advance || same < 0
  const { clock } = state
  // Divisions that have gone by under another count are not made up for.
  const timed = clock && isOtherTime ? { ...next, clock: nextDivision(clock, after.division, now) } : next
  return { state: showing(timed), intents }
}

/** Per row as it was: its place now; -1: it is gone. */
function movedRows({ rows }: ReadyPattern, after: ReadyPattern): readonly number[] {
  return rows.map(({ id }) => after.rows.findIndex((row) => row.id === id))
}

/** What pads muted stays so, unless it was this that was edited. */
function mutedIn({ ready, muted }: StepsState, pattern: ReadyPattern): readonly boolean[] {
  const place = ready.patterns.findIndex(({ id }) => id === pattern.id)
  const rows = ready.patterns[place]?.rows ?? []
  return pattern.rows.map(({ id, muted: isMuted }) => {
    const was = rows.findIndex((row) => row.id === id)
    if (was < 0 || rows[was]?.muted !== isMuted) return isMuted
    return muted[place]?.[was] ?? isMuted
  })
}

function offsetsAfter(
  { place, offsets }: StepsState,
  before: ReadyPattern,
  after: ReadyPattern,
  moved: readonly number[],
): readonly number[] {
  if (place === null) return []
  return after.rows.map(({ steps }, to) => {
    const from = moved.indexOf(to)
    const row = before.rows[from]
    if (!row) return 0
    const offset = offsets[from] ?? 0
    if (row.steps.length === steps.length) return offset
    const at = stepAt(place + offset, row.steps.length) % steps.length
    return at - stepAt(place, steps.length)
  })
}
