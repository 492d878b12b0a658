import type { LampStatus } from '../../src/contract/from-engine.ts'
import type { PartId } from '../../src/domain/ids.ts'
import type { LampState } from '../../src/domain/lamp-state.ts'

/** A lamp as screens and terminals are told of it. One that is only lit to be found has no part, one that glows no key. `claimedBy`: the part whose claim has it, lit or dark. */
export function lampStatus(lamp: string, state: LampState, claimedBy?: PartId): LampStatus {
  const claim = claimedBy === undefined ? {} : { claimedBy }
  if (!state.on) return { lamp, on: false, ...claim }
  const { part, player, key, hz, realHz, cents, duty, glow } = state
  const whose = part === '' ? {} : { part, player }
  if (glow) return { lamp, on: true, ...whose, hz, realHz, duty, glow, ...claim }
  return { lamp, on: true, ...whose, key, hz, realHz, cents, duty, ...claim }
}
