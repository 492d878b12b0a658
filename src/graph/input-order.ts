import type { PlayerId } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'

/** A decoded message that waits for its moment. */
export interface Heard {
  readonly player: PlayerId
  readonly message: MidiMessage
}

/** The messages of one moment in the order they are handled: `offs` before `rest`. */
export interface Ordered {
  readonly offs: readonly Heard[]
  readonly rest: readonly Heard[]
}

/**
 * Note-offs go before the rest of their moment, so that a lamp let go is free for a note struck at the same time. An off stays behind a strike of its own key,
 * which it ends, and behind a pedal or any other message of its player that may bear on it.
 */
export function offsFirst(heard: readonly Heard[]): Ordered {
  const offs: Heard[] = []
  const rest: Heard[] = []
  const struck = new Set<string>()
  const barred = new Set<PlayerId>()
  for (const one of heard) {
    const { player, message } = one
    if (message.type === 'note-off') {
      const free = !barred.has(player) && !struck.has(`${player}/${message.channel}/${message.key}`)
      ;(free ? offs : rest).push(one)
      continue
    }
    if (message.type === 'note-on') struck.add(`${player}/${message.channel}/${message.key}`)
    else barred.add(player)
    rest.push(one)
  }
  return { offs, rest }
}
