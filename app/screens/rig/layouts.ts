import type { MidiLayout } from '../../../src/domain/rig.ts'

/** How a MIDI lamp box may be spoken to. */
export const LAYOUTS: readonly { readonly value: MidiLayout; readonly text: string }[] = [
  { value: 'channel-per-lamp', text: 'a channel for each lamp' },
  { value: 'mpe', text: 'MPE, a lower zone' },
  { value: 'note-per-lamp', text: 'a key for each lamp' },
]
