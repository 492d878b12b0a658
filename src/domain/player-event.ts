import type { NoteId } from './ids.ts'
import type { Cents, Channel, Key, Micros, Velocity } from './units.ts'

/** What a player did, once pedals, bounces and ghosts are dealt with. */
export type PlayerEvent =
  | {
      readonly kind: 'note-on'
      readonly note: NoteId
      readonly key: Key
      readonly channel: Channel
      readonly velocity: Velocity
      /** How it was struck, where a curve made another velocity of it. */
      readonly struck?: Velocity
      /** How long conditioning kept it back; absent: not at all. */
      readonly heldBack?: Micros
    }
  /** The key is up, but a pedal holds the note. */
  | { readonly kind: 'note-release'; readonly note: NoteId }
  /** The note is over. */
  | { readonly kind: 'note-off'; readonly note: NoteId }
  /** Same strike, other key: the converter had it wrong, or (`legato`) the player went on to another note without striking it. */
  | {
      readonly kind: 'note-rekey'
      readonly note: NoteId
      readonly key: Key
      readonly legato?: true
      readonly heldBack?: Micros
    }
  | { readonly kind: 'bend'; readonly channel: Channel; readonly cents: Cents }
  | {
      readonly kind: 'controller'
      readonly channel: Channel
      readonly controller: number
      readonly value: number
    }
  /** Every note of the player is over. */
  | { readonly kind: 'all-off' }
  /** A note-on that is the same strike as one before it: the converter thought again, or the player went on legato. */
  | { readonly kind: 'joined'; readonly note: NoteId; readonly key: Key; readonly channel: Channel }
  /** A note-on that was not taken for a note; `velocity`: how a pad was struck. */
  | {
      readonly kind: 'dropped'
      readonly key: Key
      readonly channel: Channel
      readonly why: DropReason
      readonly velocity?: Velocity
    }

export type DropReason = 'floor' | 'mask' | 'crosstalk' | 'ghost'
