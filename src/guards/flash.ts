import type { FlashGuard } from '../domain/flash-guard.ts'
import type { LampIndex } from '../domain/ids.ts'
import type { Drive, LampChange, LampState, Lit } from '../domain/lamp-state.ts'
import { DARK } from '../domain/lamp-state.ts'
import type { Stage, Step, Wake } from '../domain/stage.ts'
import type { Cents, Hz, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'

/** How a lamp stays lit and is not heard. */
export interface GlowLight {
  readonly hz: Hz
  readonly realHz: Hz
  readonly cents: Cents
  readonly drive: Drive
}

export interface FlashGuardConfig {
  readonly guard: FlashGuard
  /** Per lamp; null: its output cannot. */
  readonly glows: readonly (GlowLight | null)[]
}

export type FlashGuardIn =
  /** What one moment asks for; each lamp at most once. `isDark`: somebody darkens everything, and nothing is held back. */
  | { readonly kind: 'wishes'; readonly wishes: readonly Wish[]; readonly isDark?: boolean | undefined }
  /** What lamps really did in it, once it is over. */
  | { readonly kind: 'done'; readonly changes: readonly LampChange[] }
  /** It is another guard from now on. */
  | ({ readonly kind: 'guard' } & FlashGuardConfig)
  | Wake

export type FlashGuardOut =
  | { readonly kind: 'wishes'; readonly wishes: readonly Wish[] }
  | { readonly kind: 'tied' | 'glowed'; readonly lamp: LampIndex }

export interface FlashGuardState {
  readonly config: FlashGuardConfig
  /** What each lamp does, moments that are over. */
  readonly lamps: readonly LampState[]
  /** The field's last change was that a lamp lit. */
  readonly isUp: boolean
  /** When the field changed from lit to dark or back: the latest, latest last. */
  readonly changedAt: readonly Micros[]
  /** Lamps that were to go dark and have not. */
  readonly tied: readonly LampIndex[]
  /** How many lamps are lit, and how many of them sound. */
  readonly lit: number
  readonly sounding: number
  /** When the last lamp that sounded ended; null: one sounds. */
  readonly silentSince: Micros | null
}

/** A second, and as long as wires and lamp boxes take at most to show a change (measured at the firmware's pins: 1 ms), one more or less than another. */
const SECOND: Micros = MICROS_PER_SECOND + 10_000
/** As many changes as any limit can ask for. */
const KEPT = 120

/**
 * Keeps the whole field from changing between lit and dark more often than a limit says, or keeps lamps lit between notes; what flashes by its own rate is not seen to here, but moved where rates are
 * resolved. The field is all lamps taken as one light: lamps that light one after another are one change until one goes dark, and where in one moment some go dark and others light, it
 * falls and rises. One second is any half-open second, and a little more.
 * - `limit`: a lamp goes dark only where the field may fall now and rise again later, so that a note never waits for its light; else it stays as it is, and goes dark as soon as that is so.
 * - `glow`: a lamp that is to go dark stays lit by a rate that is not heard, until no lamp has sounded for a while; then all do.
 */
export const flashGuard: Stage<FlashGuardConfig, FlashGuardState, FlashGuardIn, FlashGuardOut> = {
  name: 'flash guard',
  start: (config) => ({
    config,
    lamps: config.glows.map(() => DARK),
    isUp: false,
    changedAt: [],
    tied: [],
    lit: 0,
    sounding: 0,
    silentSince: 0,
  }),
  step(state, event, now): Step<FlashGuardState, FlashGuardOut> {
    switch (event.kind) {
      case 'wishes':
        return answered(event.isDark ? { state, out: [pass(event.wishes)] } : held(state, event.wishes, now))
      case 'done':
        return answered({ state: seen(state, event.changes, now), out: [] })
      case 'guard':
        return answered(changed(state, event, now))
      case 'wake':
        return answered(due(state, now))
    }
  },
}

/** Whether a lamp may go dark now; of a field that is dark already, or is no longer limited, any. */
export function mayDarken({ config: { guard }, isUp, changedAt }: FlashGuardState, now: Micros): boolean {
  if (guard.action !== 'limit' || !isUp) return true
  // It falls, and is to rise again whenever a note comes.
  return changedAt.filter((at) => now - at < SECOND).length <= guard.changes - 2
}

function pass(wishes: readonly Wish[]): FlashGuardOut {
  return { kind: 'wishes', wishes }
}

function answered({
  state,
  out,
}: {
  state: FlashGuardState
  out: readonly FlashGuardOut[]
}): Step<FlashGuardState, FlashGuardOut> {
  return { state, out, wake: nextDue(state) }
}

function held(state: FlashGuardState, wishes: readonly Wish[], now: Micros) {
  switch (state.config.guard.action) {
    case 'limit':
      return tie(state, wishes, now)
    case 'glow':
      return glow(state, wishes)
    default:
      return { state, out: [pass(wishes)] }
  }
}

function tie(state: FlashGuardState, wishes: readonly Wish[], now: Micros) {
  const may = mayDarken(state, now)
  const held = (wish: Wish): boolean => !wish.state.on && !may && isLit(state, wish.lamp)
  const tied = new Set(state.tied)
  const out: FlashGuardOut[] = [pass(wishes.filter((wish) => !held(wish)))]
  for (const wish of wishes) {
    if (!held(wish)) tied.delete(wish.lamp)
    else if (!tied.has(wish.lamp)) {
      tied.add(wish.lamp)
      out.push({ kind: 'tied', lamp: wish.lamp })
    }
  }
  if (tied.size === 0 && state.tied.length === 0) return { state, out }
  return { state: { ...state, tied: [...tied].sort((a, b) => a - b) }, out }
}

function glow(state: FlashGuardState, wishes: readonly Wish[]) {
  const out: FlashGuardOut[] = []
  const passed = wishes.flatMap((wish): Wish[] => {
    const lit = state.lamps[wish.lamp]
    if (wish.state.on || !lit?.on || wasFound(lit)) return [wish]
    const light = state.config.glows[wish.lamp]
    if (lit.glow) return []
    if (!light) return [wish]
    out.push({ kind: 'glowed', lamp: wish.lamp })
    return [{ lamp: wish.lamp, state: glowing(lit, light), gap: 0 }]
  })
  return { state, out: [pass(passed), ...out] }
}

/** As bright in the mean as it was: the same duty. */
function glowing({ part, player, duty }: Lit, { hz, realHz, cents, drive }: GlowLight): Lit {
  return {
    on: true,
    part,
    player,
    note: 0,
    key: 0,
    velocity: 0,
    hz,
    realHz,
    cents,
    duty,
    drive,
    strike: false,
    glow: true,
  }
}

/** A lamp that was lit to be found belongs to nobody. */
function wasFound({ player, note }: Lit): boolean {
  return player === '' && note === 0
}

function seen(state: FlashGuardState, changes: readonly LampChange[], now: Micros): FlashGuardState {
  if (changes.length === 0) return state
  const lamps = state.lamps.slice()
  let { lit, sounding, isUp } = state
  let fell = false
  let rose = false
  for (const { index, state: next } of changes) {
    const before = lamps[index] ?? DARK
    lamps[index] = next
    if (before.on && !next.on) fell = true
    if (!before.on && next.on) rose = true
    lit += Number(next.on) - Number(before.on)
    sounding += Number(sounds(next)) - Number(sounds(before))
  }
  const turns: Micros[] = []
  if (fell && isUp) {
    turns.push(now)
    isUp = false
  }
  if (rose && !isUp) {
    turns.push(now)
    isUp = true
  }
  const changedAt = turns.length === 0 ? state.changedAt : latest(state.changedAt, turns, now)
  const tied = state.tied.length === 0 ? state.tied : state.tied.filter((lamp) => lamps[lamp]?.on)
  const silentSince = sounding > 0 ? null : (state.silentSince ?? now)
  return { config: state.config, lamps, isUp, changedAt, tied, lit, sounding, silentSince }
}

function sounds(lamp: LampState): boolean {
  return lamp.on && !lamp.glow
}

/** No more of them than can matter. */
function latest(before: readonly Micros[], turns: readonly Micros[], now: Micros): Micros[] {
  return [...before.filter((at) => now - at < SECOND), ...turns].slice(-KEPT)
}

/** What the guard before kept lit goes dark, where this one does not. */
function changed(state: FlashGuardState, { guard, glows }: FlashGuardConfig, now: Micros) {
  const next = { ...state, config: { guard, glows }, tied: guard.action === 'limit' ? state.tied : [] }
  const kept = guard.action === 'glow' ? [] : glowingIn(state)
  const dark = [...kept, ...state.tied.map(darkened)]
  return dark.length === 0 ? { state: next, out: [] } : held(next, dark, now)
}

function due(state: FlashGuardState, now: Micros) {
  const { guard } = state.config
  if (guard.action === 'limit' && state.tied.length > 0 && mayDarken(state, now))
    return { state: { ...state, tied: [] }, out: [pass(state.tied.map(darkened))] }
  if (guard.action === 'glow' && (glowsUntil(state) ?? Infinity) <= now)
    return { state: { ...state, silentSince: null }, out: [pass(glowingIn(state))] }
  return { state, out: [] }
}

function nextDue(state: FlashGuardState): Micros | undefined {
  const { guard } = state.config
  if (guard.action === 'glow') return glowsUntil(state)
  if (guard.action !== 'limit' || state.tied.length === 0) return undefined
  // When the change that is one too many is a second old.
  const last = state.changedAt.at(-(guard.changes - 1))
  return last === undefined ? undefined : last + SECOND
}

function glowsUntil({ config: { guard }, lit, silentSince }: FlashGuardState): Micros | undefined {
  if (guard.action !== 'glow' || silentSince === null || lit === 0) return undefined
  return silentSince + Math.round(guard.seconds * MICROS_PER_SECOND)
}

function glowingIn({ lamps }: FlashGuardState): Wish[] {
  return lamps.flatMap((lamp, index) => (lamp.on && lamp.glow ? [darkened(index)] : []))
}

function darkened(lamp: LampIndex): Wish {
  return { lamp, state: DARK, gap: 0 }
}

function isLit({ lamps }: FlashGuardState, lamp: LampIndex): boolean {
  return lamps[lamp]?.on ?? false
}
