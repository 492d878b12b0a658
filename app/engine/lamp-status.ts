import type { LampStatus } from '../../src/contract/from-engine.ts'
import type { LampState } from '../../src/domain/lamp-state.ts'

/** A lamp as screens and terminals are told of it. One that is only lit to be found has no part. */
export function lampStatus(lamp: string, state: LampState): LampStatus {
  if (!state.on) return { lamp, on: false }
  const { part, player, key, hz, realHz, cents, duty } = state
  const whose = part === '' ? {} : { part, player }
  return { lamp, on: true, ...whose, key, hz, realHz, cents, duty }
}
