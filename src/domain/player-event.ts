import type { NoteId } from './ids.ts'
import type { Cents, Channel, Key, Velocity } from './units.ts'

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
    }
  /** The key is up, but a pedal holds the note. */
  | { readonly kind: 'note-release'; readonly note: NoteId }
  /** The note is over. */
  | { readonly kind: 'note-off'; readonly note: NoteId }
  /** The converter had the note's key wrong: same strike, other key. */
  | { readonly kind: 'note-rekey'; readonly note: NoteId; readonly key: Key }
  | { readonly kind: 'bend'; readonly channel: Channel; readonly cents: Cents }
  | {
      readonly kind: 'controller'
      readonly channel: Channel
      readonly controller: number
      readonly value: number
    }
  /** Every note of the player is over. */
  | { readonly kind: 'all-off' }
  /** A note-on that is the same strike as one before it: the converter thought again. */
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
