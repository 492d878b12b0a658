import type { LampChange } from '../domain/lamp-state.ts'
import type { NoteId, PlayerId } from '../domain/ids.ts'
import type { DropReason, PlayerEvent } from '../domain/player-event.ts'

/** Follows each note from its strike to its first lamp, and to its end. */
export interface NoteBook {
  player(player: PlayerId, event: PlayerEvent): void
  changes(changes: readonly LampChange[]): void
  /** Note-ons that have lit a lamp, or belong to a strike that has its own chance to. */
  readonly placed: number
  /** Players with notes that have not ended. */
  sounding(): readonly { readonly player: PlayerId; readonly notes: number }[]
  /** Note-ons that conditioning did not take for notes. */
  dropped(): readonly { readonly player: PlayerId; readonly why: DropReason; readonly notes: number }[]
}

export function createNoteBook(): NoteBook {
  /** Notes that have not lit a lamp yet, and how many note-ons went into each. */
  const unlit = new Map<PlayerId, Map<NoteId, number>>()
  const open = new Map<PlayerId, Set<NoteId>>()
  const drops = new Map<string, { player: PlayerId; why: DropReason; notes: number }>()
  let placed = 0

  return {
    player(player, event) {
      if (event.kind === 'note-on') {
        const waiting = unlit.get(player) ?? new Map<NoteId, number>()
        unlit.set(player, waiting.set(event.note, 1))
        setOf(open, player).add(event.note)
      } else if (event.kind === 'note-off') setOf(open, player).delete(event.note)
      else if (event.kind === 'all-off') setOf(open, player).clear()
      else if (event.kind === 'joined') {
        const strikes = unlit.get(player)?.get(event.note)
        if (strikes === undefined) placed++
        else unlit.get(player)?.set(event.note, strikes + 1)
      } else if (event.kind === 'dropped') {
        const key = `${player}/${event.why}`
        const known = drops.get(key) ?? { player, why: event.why, notes: 0 }
        known.notes++
        drops.set(key, known)
      }
    },
    changes(changes) {
      for (const { state } of changes) {
        if (!state.on) continue
        placed += unlit.get(state.player)?.get(state.note) ?? 0
        unlit.get(state.player)?.delete(state.note)
      }
    },
    get placed() {
      return placed
    },
    sounding: () =>
      [...open]
        .filter(([, notes]) => notes.size > 0)
        .map(([player, notes]) => ({ player, notes: notes.size })),
    dropped: () => [...drops.values()],
  }
}

function setOf(book: Map<PlayerId, Set<NoteId>>, player: PlayerId): Set<NoteId> {
  const known = book.get(player) ?? new Set()
  book.set(player, known)
  return known
}
