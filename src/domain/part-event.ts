import type { LampId, NoteId } from './ids.ts'
import type { Cents, Channel, Duty, Key, Velocity } from './units.ts'

/** A note as a strategy sees it: transposed, with the duty its velocity gives where the part says so. */
export interface Note {
  readonly id: NoteId
  readonly key: Key
  readonly channel: Channel
  readonly velocity: Velocity
  readonly duty?: Duty | undefined
}

/** Why a lamp does not do what a strategy asked. */
export type RefusalReason = 'claimed' | 'supply' | 'range' | 'unmapped'

/** What happens to a part, in the order a strategy hears of it. */
export type PartEvent =
  | { readonly kind: 'note-on'; readonly note: Note }
  /** The key is up, a pedal holds the note. */
  | { readonly kind: 'note-release'; readonly id: NoteId }
  | { readonly kind: 'note-off'; readonly id: NoteId }
  /** Same strike, other key: it was heard wrong; or (`legato`) it is another note of the same voice. */
  | { readonly kind: 'note-rekey'; readonly id: NoteId; readonly key: Key; readonly legato?: true }
  | { readonly kind: 'all-off' }
  /** The lamp did not light for this note and is dark. */
  | { readonly kind: 'refused'; readonly lamp: LampId; readonly id: NoteId; readonly reason: RefusalReason }
  /** Another part took the lamp; it is no longer this part's. `ends`: what sounded on it ends there, and neither moves nor comes back. */
  | { readonly kind: 'lost'; readonly lamp: LampId; readonly ends?: boolean | undefined }
  /** The lamp is this part's to use again. */
  | { readonly kind: 'gained'; readonly lamp: LampId }
  /** The song's beats go otherwise than before: the view has how. `hasJumped`: they are somewhere else than they would have come to. */
  | { readonly kind: 'tempo'; readonly hasJumped?: boolean | undefined }
  /** The time the strategy asked to be woken at. */
  | { readonly kind: 'wake' }

/** Changes to notes already sounding, which no strategy needs to decide on. */
export type Expression =
  | { readonly kind: 'bend'; readonly channel: Channel; readonly cents: Cents }
  | { readonly kind: 'duty'; readonly duty: Duty }
  /** How much of the part's vibrato there is, and how far it is from pulse to pitch; 0 to 1. */
  | { readonly kind: 'vibrato' | 'pitched'; readonly amount: number }
