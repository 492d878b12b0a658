import type { NoteId } from '../../src/domain/ids.ts'
import type { PlayerEvent } from '../../src/domain/player-event.ts'

/**
 * Goes through what a player did and throws where it is no sense: an id used twice, an end, release or new key of a note that does not sound.
 * Returns the notes that still sound.
 */
export function soundingAfter(events: readonly PlayerEvent[]): ReadonlySet<NoteId> {
  const begun = new Set<NoteId>()
  const sounding = new Set<NoteId>()
  const released = new Set<NoteId>()
  for (const event of events) {
    switch (event.kind) {
      case 'note-on':
        if (begun.has(event.note)) throw new Error(`Note ${event.note} begins twice`)
        begun.add(event.note)
        sounding.add(event.note)
        break
      case 'note-off':
        if (!sounding.delete(event.note)) throw new Error(`Note ${event.note} ends, but does not sound`)
        break
      case 'note-release':
        if (!sounding.has(event.note) || released.has(event.note))
          throw new Error(`Note ${event.note} is released, but is not held`)
        released.add(event.note)
        break
      case 'note-rekey':
        if (!sounding.has(event.note)) throw new Error(`Note ${event.note} changes key, but does not sound`)
        break
      case 'all-off':
        sounding.clear()
        break
      default:
    }
  }
  return sounding
}
