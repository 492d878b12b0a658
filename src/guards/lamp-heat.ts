import type { LampIndex } from '../domain/ids.ts'
import type { Lit } from '../domain/lamp-state.ts'
import type { Lamp } from '../domain/rig.ts'
import type { Stage, Step, Wake } from '../domain/stage.ts'
import type { Duty, Micros, Watts } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'

export interface LampHeatConfig {
  readonly lamps: readonly Lamp[]
}

export type LampHeatIn = { readonly kind: 'wishes'; readonly wishes: readonly Wish[] } | Wake

export interface LampHeatOut {
  readonly kind: 'admitted'
  readonly wishes: readonly Wish[]
  /** Lamps whose duty was held down and was not before. */
  readonly held: readonly LampIndex[]
}

/** How warm a lamp is taken to be, as power: what its draw has been over its time, weighted towards now. */
interface Heat {
  readonly at: Micros
  readonly mean: Watts
  /** What it draws from `at` on, the mean over a period of its flashing. */
  readonly draws: Watts
  /** As it was asked for; null: dark. */
  readonly asked: Lit | null
  readonly isHeld: boolean
  /** When it comes to its limit; null: never, as it is. */
  readonly dueAt: Micros | null
}

export interface LampHeatState {
  readonly lamps: readonly (HeatLimit | null)[]
  /** Of lamps without a limit null. */
  readonly heats: readonly (Heat | null)[]
  /** When the first lamp comes to its limit; null: none does, as they are. */
  readonly firstDue: Micros | null
}

interface HeatLimit {
  readonly watts: Watts
  readonly most: Watts
  /** Of the mean: an exponential one with this time constant. */
  readonly span: Micros
}

const COLD: Heat = { at: 0, mean: 0, draws: 0, asked: null, isHeld: false, dueAt: null }
const NONE: readonly LampIndex[] = []
/** Watts: rounding, nothing that heats. */
const SAME = 1e-9

/**
 * Keeps each lamp's mean power within what it bears (`heat`). Lit with duty D a lamp draws watts x D; its mean is exponential, with the time constant T: m(t) = p + (m0 - p) e^(-t/T), the
 * step response of a single heat capacity (any textbook on heat). A lamp may draw what it likes until its mean comes to the limit, and from then on as much as the limit, by
 * a thinner duty, until it is dark or asked for less. Lamps without `heat` are left alone.
 */
export const lampHeat: Stage<LampHeatConfig, LampHeatState, LampHeatIn, LampHeatOut> = {
  name: 'lamp heat',
  start: ({ lamps }) => ({
    lamps: lamps.map(({ watts, heat }) =>
      heat ? { watts, most: heat.meanWatts, span: Math.round(heat.seconds * MICROS_PER_SECOND) } : null,
    ),
    heats: lamps.map(({ heat }) => (heat ? COLD : null)),
    firstDue: null,
  }),
  step(state, event, now): Step<LampHeatState, LampHeatOut> {
    // Nothing to see to, as in most shows.
    if (event.kind === 'wishes' && event.wishes.every(({ lamp }) => !state.lamps[lamp]))
      return {
        state,
        out: [{ kind: 'admitted', wishes: event.wishes, held: NONE }],
        wake: wakeOf(state, now),
      }
    const heats = state.heats.slice()
    const held: LampIndex[] = []
    const wishes =
      event.kind === 'wake' ? warmed(state, heats, held, now) : asked(state, heats, held, event.wishes, now)
    const out = wishes.length > 0 ? [{ kind: 'admitted' as const, wishes, held }] : []
    const next = { lamps: state.lamps, heats, firstDue: firstDue(state, heats, wishes) }
    return { state: next, out, wake: wakeOf(next, now) }
  },
}

function asked(
  { lamps }: LampHeatState,
  heats: (Heat | null)[],
  held: LampIndex[],
  wishes: readonly Wish[],
  now: Micros,
): Wish[] {
  return wishes.map((wish) => {
    const limit = lamps[wish.lamp]
    const before = heats[wish.lamp]
    if (!limit || !before) return wish
    const mean = meanAt(before, limit, now)
    if (!wish.state.on) {
      heats[wish.lamp] = { at: now, mean, draws: 0, asked: null, isHeld: false, dueAt: null }
      return wish
    }
    const state = lit(limit, wish.lamp, wish.state, mean, before.isHeld, heats, held, now)
    return state === wish.state ? wish : { lamp: wish.lamp, state, gap: wish.gap }
  })
}

/** Lamps that have come to their limit. */
function warmed({ lamps }: LampHeatState, heats: (Heat | null)[], held: LampIndex[], now: Micros): Wish[] {
  return heats.flatMap((heat, lamp): Wish[] => {
    const limit = lamps[lamp]
    if (!limit || !heat?.asked || heat.dueAt === null || heat.dueAt > now) return []
    const state = { ...heat.asked, strike: false }
    return [{ lamp, state: lit(limit, lamp, state, limit.most, false, heats, held, now), gap: 0 }]
  })
}

function lit(
  limit: HeatLimit,
  lamp: LampIndex,
  state: Lit,
  mean: Watts,
  wasHeld: boolean,
  heats: (Heat | null)[],
  held: LampIndex[],
  now: Micros,
): Lit {
  const draws = limit.watts * state.duty
  const isHeld = draws > limit.most + SAME && mean >= limit.most - SAME
  if (isHeld && !wasHeld) held.push(lamp)
  const duty: Duty = isHeld ? limit.most / limit.watts : state.duty
  const before = Math.min(mean, limit.most)
  const power = limit.watts * duty
  const due = isHeld ? null : dueAt(now, before, power, limit)
  heats[lamp] = { at: now, mean: before, draws: power, asked: state, isHeld, dueAt: due }
  return isHeld ? thinner(state, duty) : state
}

/** A pulse's timer has an on part of its own. */
function thinner(state: Lit, duty: Duty): Lit {
  const { drive } = state
  if (drive.kind !== 'timer' || drive.duty === undefined) return { ...state, duty }
  return { ...state, duty, drive: { ...drive, duty: (drive.duty * duty) / state.duty } }
}

function meanAt({ at, mean, draws }: Heat, { span, most }: HeatLimit, now: Micros): Watts {
  const later = draws + (mean - draws) * Math.exp(-(now - at) / span)
  // A wake is due to the nearest microsecond.
  return draws > most ? Math.min(later, most) : later
}

/** When the lamp comes to its limit; null: never. */
function dueAt(at: Micros, mean: Watts, draws: Watts, { span, most }: HeatLimit): Micros | null {
  if (draws <= most + SAME) return null
  return at + Math.max(0, Math.floor(span * Math.log((draws - mean) / (draws - most))))
}

/** Looked for among all only where the one that was first is not any more. */
function firstDue(
  before: LampHeatState,
  heats: readonly (Heat | null)[],
  wishes: readonly Wish[],
): Micros | null {
  let first = before.firstDue ?? Infinity
  for (const { lamp } of wishes) {
    if (before.heats[lamp]?.dueAt === first) return earliest(heats)
    first = Math.min(first, heats[lamp]?.dueAt ?? Infinity)
  }
  return first === Infinity ? null : first
}

function earliest(heats: readonly (Heat | null)[]): Micros | null {
  let first = Infinity
  for (const heat of heats) if (heat && heat.dueAt !== null) first = Math.min(first, heat.dueAt)
  return first === Infinity ? null : first
}

function wakeOf({ firstDue: due }: LampHeatState, now: Micros): Micros | undefined {
  return due === null ? undefined : Math.max(due, now + 1)
}
