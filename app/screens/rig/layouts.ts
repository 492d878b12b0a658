import type { MidiLayout, MtsForm } from '../../../src/domain/rig.ts'

/** How a MIDI lamp box may be spoken to. */
export const LAYOUTS: readonly { readonly value: MidiLayout; readonly text: string }[] = [
  { value: 'channel-per-lamp', text: 'a channel for each lamp' },
  { value: 'mpe', text: 'MPE, a lower zone' },
  { value: 'note-per-lamp', text: 'a key for each lamp' },
]

/** How an output may be told the song's tuning by the MIDI Tuning Standard; empty: it is not. */
export const TELLINGS: readonly { readonly value: MtsForm | ''; readonly text: string }[] = [
  { value: '', text: 'not at all' },
  { value: 'keys', text: 'key by key' },
  { value: 'bulk', text: 'as a bulk dump' },
  { value: 'octave', text: 'as an octave, to the cent' },
  { value: 'octave-fine', text: 'as an octave, finer' },
]
