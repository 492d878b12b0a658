import type { PadHit } from '../../src/contract/from-engine.ts'
import type { PlayerEvent } from '../../src/domain/player-event.ts'
import type { Micros } from '../../src/domain/units.ts'

/** How far back the picture goes from the latest hit. */
const SPAN: Micros = 2_000_000
/** As the contract has it. */
const MOST = 64

/** The last hits of a pads player, taken or not, for whoever sets the pads up. */
export class HitHistory {
  #hits: readonly PadHit[] = []

  did(event: PlayerEvent, at: Micros): void {
    const hit = hitOf(event, at)
    if (hit) this.#hits = [...this.#hits.filter((one) => at - one.at < SPAN), hit].slice(-MOST)
  }

  /** Latest last. */
  recent(): PadHit[] {
    return [...this.#hits]
  }
}

function hitOf(event: PlayerEvent, at: Micros): PadHit | undefined {
  if (event.kind === 'note-on') {
    const { key, velocity, struck } = event
    return struck === undefined ? { at, key, velocity } : { at, key, velocity: struck, taken: velocity }
  }
  if (event.kind !== 'dropped' || event.velocity === undefined) return undefined
  return { at, key: event.key, velocity: event.velocity, dropped: event.why }
}
