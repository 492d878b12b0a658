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
}

export interface LampHeatState {
  readonly lamps: readonly (HeatLimit | null)[]
  /** Of lamps without a limit null. */
  readonly heats: readonly (Heat | null)[]
}

interface HeatLimit {
  readonly watts: Watts
  readonly most: Watts
  /** Of the mean: an exponential one with this time constant. */
  readonly span: Micros
}

const COLD: Heat = { at: 0, mean: 0, draws: 0, asked: null, isHeld: false }
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
  }),
  step(state, event, now): Step<LampHeatState, LampHeatOut> {
    const heats = state.heats.slice()
    const held: LampIndex[] = []
    const wishes =
      event.kind === 'wake' ? warmed(state, heats, held, now) : asked(state, heats, held, event.wishes, now)
    const out = wishes.length > 0 ? [{ kind: 'admitted' as const, wishes, held }] : []
    return { state: { ...state, heats }, out, wake: nextDue(state.lamps, heats, now) }
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
      heats[wish.lamp] = { at: now, mean, draws: 0, asked: null, isHeld: false }
      return wish
    }
    return { ...wish, state: lit(limit, wish.lamp, wish.state, mean, before.isHeld, heats, held, now) }
  })
}

/** Lamps that have come to their limit. */
function warmed({ lamps }: LampHeatState, heats: (Heat | null)[], held: LampIndex[], now: Micros): Wish[] {
  return heats.flatMap((heat, lamp): Wish[] => {
    const limit = lamps[lamp]
    if (!heat || !limit || !heat.asked || heat.isHeld || dueAt(heat, limit) > now) return []
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
  heats[lamp] = { at: now, mean: Math.min(mean, limit.most), draws: limit.watts * duty, asked: state, isHeld }
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

/** When the lamp comes to its limit; Infinity: never. */
function dueAt({ at, mean, draws }: Heat, { span, most }: HeatLimit): Micros {
  if (draws <= most + SAME) return Infinity
  return at + Math.max(0, Math.floor(span * Math.log((draws - mean) / (draws - most))))
}

function nextDue(
  limits: readonly (HeatLimit | null)[],
  heats: readonly (Heat | null)[],
  now: Micros,
): Micros | undefined {
  let wake = Infinity
  heats.forEach((heat, lamp) => {
    const limit = limits[lamp]
    if (heat?.asked && limit && !heat.isHeld) wake = Math.min(wake, dueAt(heat, limit))
  })
  return wake === Infinity ? undefined : Math.max(wake, now + 1)
}
