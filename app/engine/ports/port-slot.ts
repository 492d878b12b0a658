import { RESTED } from './backoff.ts'
import type { Backoff } from './backoff.ts'
import type { Heard, MidiInputPort, MidiOutputPort, PortWay } from './midi-system.ts'
import type { Millis } from './poll-timer.ts'
import type { RememberedPort } from './port-match.ts'

/** A port that the engine wants open. One entry for each device: players that share one share its entry. */
export type WantedPort =
  | { readonly key: string; readonly way: 'input'; readonly port: RememberedPort; readonly heard: Heard }
  | { readonly key: string; readonly way: 'output'; readonly port: RememberedPort }

export type SlotStatus = 'new' | 'open' | 'lost' | 'missing' | 'ambiguous' | 'busy' | 'unavailable'

/** One wanted port and all that is known of it. Only `PortWatch` changes it. */
export interface Slot {
  readonly wanted: WantedPort
  readonly way: PortWay
  /** As found last; the wish itself stands in `wanted.port`. */
  remembered: RememberedPort
  status: SlotStatus
  /** The question that was asked last, if any. */
  asked: string
  wasOpen: boolean
  held: Held | undefined
  backoff: Backoff
}

export interface Held {
  readonly port: MidiInputPort | MidiOutputPort
  /** As listed last. */
  name: string
  /**
   * Set while one of several equal names is gone and nothing says which: it may be this one. The port stays open: bytes from it prove
   * that it is not.
   */
  doubt: Doubt | undefined
}

export interface Doubt {
  /** How many of the name there were; when they are back, all is as before. */
  readonly whole: number
  readonly since: Millis
}

export function newSlot(wanted: WantedPort): Slot {
  const { way, port } = wanted
  return {
    wanted,
    way,
    remembered: port,
    status: 'new',
    asked: '',
    wasOpen: false,
    held: undefined,
    backoff: RESTED,
  }
}
