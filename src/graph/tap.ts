import type { Diagnostic } from '../domain/diagnostic.ts'
import type { LampId, NoteId, OutputId, PartId, PlayerId, TuningId } from '../domain/ids.ts'
import type { LampChange } from '../domain/lamp-state.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { RefusalReason } from '../domain/part-event.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Song } from '../domain/song.ts'
import type { EnterAt } from '../domain/switching.ts'
import type { Hz, Micros } from '../domain/units.ts'
import type { DoneAct } from '../players/controls.ts'
import type { SongTimeNow } from '../time/song-time.ts'
import type { StepProgress } from '../strategies/strategy.ts'
import type { Place } from './set-list.ts'

/** Everything that can be watched, on one stream: screens, journal, ports and reports all read this and nothing else. */
export type TapEvent =
  /** A message came in, after decoding. */
  | { readonly kind: 'heard'; readonly at: Micros; readonly player: PlayerId; readonly message: MidiMessage }
  /** A message that is not played: it changes songs, or darkens. */
  | {
      readonly kind: 'control'
      readonly at: Micros
      readonly player: PlayerId
      readonly act: DoneAct
      readonly message: MidiMessage
    }
  /** A song was asked for and begins later; null: it does not, or begins now. */
  | { readonly kind: 'coming'; readonly at: Micros; readonly place: Place | null; readonly enterAt: EnterAt }
  /** A song begins; the frame of this moment, if any, is its first. */
  | { readonly kind: 'song'; readonly at: Micros; readonly place: Place; readonly enter: Song['enter'] }
  /** A player darkened everything: told before anything else is done about it. */
  | { readonly kind: 'dark'; readonly at: Micros }
  /** What a player did, after conditioning. */
  | { readonly kind: 'player'; readonly at: Micros; readonly player: PlayerId; readonly event: PlayerEvent }
  /** The song's beats go otherwise than before: another tempo, another place, on or off, or a clock that is followed came. */
  | ({ readonly kind: 'time'; readonly at: Micros } & SongTimeNow)
  /** The song goes on in another tuning; null: in its own. `retune`: what sounds as well. */
  | {
      readonly kind: 'tuning'
      readonly at: Micros
      readonly tuning: TuningId | null
      readonly retune: boolean
    }
  /** A pattern moved, or a row of it was muted or let sound. Per row: the step it is at, from 0; -1 before its first. */
  | ({ readonly kind: 'step'; readonly at: Micros; readonly part: PartId } & StepProgress)
  /** A note had to give its lamp up to another. */
  | {
      readonly kind: 'steal'
      readonly at: Micros
      readonly part: PartId
      readonly from: NoteId
      readonly to: NoteId
    }
  /** A lamp did not do what a strategy asked. */
  | {
      readonly kind: 'refused'
      readonly at: Micros
      readonly part: PartId
      readonly note: NoteId
      readonly lamp: string
      readonly reason: RefusalReason
    }
  /** A supply is over its limit and its guard only warns. */
  | { readonly kind: 'exceeded'; readonly at: Micros; readonly lamp: string; readonly supply: string }
  /** A lamp went dark, since another of its supply is lit in its place. */
  | { readonly kind: 'shed'; readonly at: Micros; readonly lamp: string; readonly supply: string }
  /** A lamp has come to the power that it bears in the mean: its duty is held down. */
  | { readonly kind: 'held-down'; readonly at: Micros; readonly lamp: string }
  /** The flash guard moved a note's rate, or a pulse's, up by octaves. */
  | {
      readonly kind: 'folded'
      readonly at: Micros
      readonly part: PartId
      readonly lamp: string
      readonly from: Hz
      readonly to: Hz
    }
  /** A lamp was to go dark, and sounds on: the field would have changed too often. */
  | { readonly kind: 'tied'; readonly at: Micros; readonly lamp: string }
  /** A lamp was to go dark, and stays lit above hearing. */
  | { readonly kind: 'glowed'; readonly at: Micros; readonly lamp: string }
  /** The lamp that is lit to be found; null: none any more, `why` where it was not its time that ended or could not be. */
  | { readonly kind: 'finding'; readonly at: Micros; readonly lamp: LampId | null; readonly why?: string }
  /** The changes of one moment, each lamp once. */
  | { readonly kind: 'frame'; readonly at: Micros; readonly changes: readonly LampChange[] }
  /** Bytes for an output's port; for a MIDI output one message each. */
  | {
      readonly kind: 'bytes'
      readonly at: Micros
      readonly output: OutputId
      readonly bytes: Uint8Array
      readonly message?: MidiMessage
    }
  | { readonly kind: 'diagnostic'; readonly at: Micros; readonly diagnostic: Diagnostic }
