import type { MidiMessage } from '../domain/midi-message.ts'
import type { Wake } from '../domain/stage.ts'

/** What a player's conditioning takes in: its port's messages, or the word that everything is over. */
export type PlayerIn = MidiMessage | Wake | { readonly kind: 'all-off' }
