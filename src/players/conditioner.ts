import type { MidiMessage } from '../domain/midi-message.ts'
import type { Player } from '../domain/player.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Stage, Wake } from '../domain/stage.ts'
import { keys } from './keys.ts'
import { pads } from './pads.ts'
import { strings } from './strings.ts'

/** What a player's conditioning takes in: its port's messages, or the word that everything is over. */
export type PlayerIn = MidiMessage | Wake | { readonly kind: 'all-off' }

export type Conditioner = Stage<Player, unknown, PlayerIn, PlayerEvent>

/** The conditioning for a player's kind of instrument. */
export function conditionerFor(player: Player): Conditioner {
  switch (player.kind) {
    case 'keys':
      return keys as unknown as Conditioner
    case 'pads':
      return pads as unknown as Conditioner
    case 'strings':
      return strings as unknown as Conditioner
  }
}
