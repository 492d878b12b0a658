import type { FlashGuard } from '../../domain/flash-guard.ts'
import type { Lamp, Supply } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import { glowLight } from '../../tuning/glow-light.ts'
import type { SurveyedLamp, SurveyedPart } from './survey.ts'

/** Whether a song's lamps can all be kept lit above hearing, and at one time. */
export function canGlow({ rig }: Show, guard: FlashGuard, parts: readonly SurveyedPart[]): boolean {
  const lamps = lampsOf(parts)
  const lit = lamps.map(({ lamp }) => lamp)
  return (
    guard.action === 'glow' &&
    lamps.every(({ lamp, output }) => glowLight(lamp, output, guard.hz) !== undefined) &&
    rig.supplies.every((supply) => wattsOf(supply, lit) <= limitWatts(supply))
  )
}

/** Each lamp of a song once. */
export function lampsOf(parts: readonly SurveyedPart[]): SurveyedLamp[] {
  const all = new Map<Lamp, SurveyedLamp>()
  for (const one of parts.flatMap(({ lamps }) => lamps)) if (!all.has(one.lamp)) all.set(one.lamp, one)
  return [...all.values()]
}

/** Of those lamps that hang on the supply. */
export function wattsOf({ id }: Supply, lamps: readonly Lamp[]): number {
  return lamps.filter(({ supply }) => supply === id).reduce((sum, { watts }) => sum + watts, 0)
}

/** With a rounding error's worth of room. */
export function limitWatts({ volts, maxAmps, usable }: Supply): number {
  return volts * maxAmps * usable + 1e-6
}
