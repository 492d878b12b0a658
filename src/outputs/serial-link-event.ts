import type { LampChange } from '../domain/lamp-state.ts'
import type { SerialOutput } from '../domain/rig.ts'
import type { Wake } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'
import type { BoxIdentity } from './box-identity.ts'
import type { OutputLamp } from './encoder-event.ts'

export interface SerialLinkConfig {
  readonly output: SerialOutput
  readonly lamps: readonly OutputLamp[]
}

/** What the link to a lamp box is told. */
export type SerialLinkEvent =
  /** The port is open, for the first time or again. */
  | { readonly kind: 'open' }
  /** The port is gone. */
  | { readonly kind: 'closed' }
  /** What came from the box, in pieces of any size. */
  | { readonly kind: 'bytes'; readonly bytes: Uint8Array }
  /** The first so many of the frames that were given to the port, and not told of yet, have left for the system. */
  | { readonly kind: 'wrote'; readonly frames: number }
  /** All changes of one moment; those of other outputs' lamps are passed over, of two for one lamp the last counts. */
  | { readonly kind: 'changes'; readonly changes: readonly LampChange[] }
  /** Everything dark, now. */
  | { readonly kind: 'dark-all' }
  /** The port is about to close: everything dark, and no change is taken any more until it opens again. */
  | { readonly kind: 'close' }
  | Wake

export type LinkState =
  /** No port. */
  | 'waiting'
  /** The port is open, and the box has not said yet who it is. */
  | 'greeting'
  /** The box answers. */
  | 'ready'
  /** The box answered before, and does not any more, or its port is gone. */
  | 'lost'

export type LinkCount =
  /** A set came after its time. */
  | 'late'
  | 'refused'
  | 'no-slot'
  /** What came from the box was no frame of a box. */
  | 'damaged'
  /** A reply did not come in time. */
  | 'unanswered'

/** What the link asks for and tells. */
export type SerialLinkOut =
  /**
   * One frame for the port. Until it is told by `wrote` that the frame has left, the link gives no other, except an `urgent`
   * one: that is dark, and goes next.
   */
  | { readonly kind: 'write'; readonly bytes: Uint8Array; readonly urgent: boolean }
  | { readonly kind: 'state'; readonly state: LinkState }
  /** `differs`: what is not as the show says, in words; undefined where all is. `missing`: slots of the rig that the box has not. */
  | {
      readonly kind: 'identity'
      readonly identity: BoxIdentity
      readonly differs: string | undefined
      readonly missing: readonly number[]
    }
  /** `sequence`: of the host's frame, or -1 where there is none to name. */
  | { readonly kind: 'count'; readonly what: LinkCount; readonly sequence: number }
  /** From giving a frame to the port until its reply. */
  | { readonly kind: 'latency'; readonly micros: Micros }
