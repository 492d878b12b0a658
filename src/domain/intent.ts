import type { LampId, NoteId } from './ids.ts'
import type { Cents, Channel, Duty, Key, Velocity } from './units.ts'

/** What a lamp is asked to sound: a note's pitch, times `ratio`, plus `cents`. */
export interface Voice {
  readonly note: NoteId
  readonly key: Key
  readonly channel: Channel
  readonly velocity: Velocity
  readonly ratio: number
  readonly cents: Cents
  /** Fixed for this note; absent: the part's present duty. */
  readonly duty?: Duty | undefined
}

/**
 * What a strategy wants of a lamp. `strike`: a new onset, also where the lamp is lit already.
 * `stole`: the note that had to give the lamp up, for the books.
 */
export type Intent =
  | {
      readonly kind: 'light'
      readonly lamp: LampId
      readonly voice: Voice
      readonly strike: boolean
      readonly stole?: NoteId | undefined
    }
  | { readonly kind: 'dark'; readonly lamp: LampId }
