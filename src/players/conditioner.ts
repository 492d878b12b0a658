import type { Player } from '../domain/player.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Stage } from '../domain/stage.ts'
import { keys } from './keys.ts'
import { pads } from './pads.ts'
import type { PlayerIn } from './player-in.ts'
import { strings } from './strings.ts'

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
