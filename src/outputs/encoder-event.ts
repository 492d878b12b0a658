import type { LampIndex } from '../domain/ids.ts'
import type { LampChange } from '../domain/lamp-state.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Output } from '../domain/rig.ts'

/** A lamp of the output: its place in the rig, its number on the output. */
export interface OutputLamp {
  readonly index: LampIndex
  readonly slot: number
}

export interface EncoderConfig<Kind extends Output = Output> {
  readonly output: Kind
  readonly lamps: readonly OutputLamp[]
}

/** What an output is told. */
export type EncoderEvent =
  /** The port is open, for the first time or again: introduce, and say how every lamp stands. */
  | { readonly kind: 'open' }
  /** All changes of one moment; those of other outputs' lamps are passed over, of two for one lamp the last counts. */
  | { readonly kind: 'changes'; readonly changes: readonly LampChange[] }
  /** Everything dark, now. */
  | { readonly kind: 'dark-all' }
  /** The port is about to close: everything dark. */
  | { readonly kind: 'close' }
  /** Due every 100 ms; a serial lamp box goes dark without. Nothing to a MIDI output. */
  | { readonly kind: 'beat' }

/** What goes to the port. */
export type EncoderOut =
  | { readonly kind: 'bytes'; readonly bytes: Uint8Array }
  | { readonly kind: 'message'; readonly message: MidiMessage }
