import type { PlayerId, SongId, TuningId } from './ids.ts'
import type { Channel, Key } from './units.ts'

/**
 * When a song that was asked for begins: at once; on the next beat or bar of the song that plays; or when every note has ended that sounded when it was asked
 * for.
 */
export type EnterAt = 'now' | 'beat' | 'bar' | 'release'

/** What a control does. `number`: the program's number, from 0, is the place in the set list. `variant`: the next arrangement of the song, and round again. */
export type ControlAct =
  | 'next'
  | 'previous'
  | 'number'
  | 'variant'
  | 'dark'
  /** A tap of the song's tempo. */
  | 'tap'
  | { readonly song: SongId }
  /** Place in the set list, from 1. */
  | { readonly place: number }
  /** The song goes on in another tuning; `retune`: what sounds as well. */
  | { readonly tuning: TuningId; readonly retune: boolean }

/** What a player does to work a control. `channel` left out: on any. */
export type ControlGesture =
  /** `program` left out: every program change. */
  | {
      readonly kind: 'program'
      readonly program?: number | undefined
      readonly channel?: Channel | undefined
    }
  /** A controller that rises to 64 or above, as a pedal does that is pressed (MIDI 1.0: pedals are on from 64). */
  | { readonly kind: 'controller'; readonly controller: number; readonly channel?: Channel | undefined }
  /** A key, or a pad. */
  | { readonly kind: 'note'; readonly key: Key; readonly channel?: Channel | undefined }

/** Something a player does that is not played but changes songs, or darkens. */
export interface Control {
  readonly player: PlayerId
  readonly on: ControlGesture
  readonly do: ControlAct
}

/** How a show goes from song to song. */
export interface Switching {
  /** For songs that do not say it themselves. */
  readonly enterAt: EnterAt
  readonly controls: readonly Control[]
}
