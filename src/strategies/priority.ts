import { z } from 'zod'
import type { NoteId } from '../domain/ids.ts'
import type { Note, PartEvent } from '../domain/part-event.ts'

/** Which of several held notes a single voice sounds. */
export type Priority = 'last' | 'low' | 'high' | 'first'

export const prioritySchema = z
  .enum(['last', 'low', 'high', 'first'])
  .default('last')
  .describe('Which of several held notes sounds; letting it go returns to one still held')

/** The notes held, in the order they were struck. */
export type Held = readonly Note[]

/** The notes held after a part event. A note on a pedal counts as held. */
export function hold(held: Held, event: PartEvent): Held {
  switch (event.kind) {
    case 'note-on':
      return [...held.filter((note) => note.id !== event.note.id), event.note]
    case 'note-off':
      return without(held, event.id)
    case 'note-rekey':
      return held.map((note) => (note.id === event.id ? { ...note, key: event.key } : note))
    case 'all-off':
      return held.length === 0 ? held : []
    default:
      return held
  }
}

function without(held: Held, id: NoteId): Held {
  const index = held.findIndex((note) => note.id === id)
  return index < 0 ? held : held.toSpliced(index, 1)
}

/** The note that sounds; among equal keys the later one. Null when nothing is held. */
export function chosen(held: Held, priority: Priority): Note | null {
  let best: Note | null = null
  for (const note of held) {
    if (best === null || wins(note, best, priority)) best = note
  }
  return best
}

function wins(later: Note, earlier: Note, priority: Priority): boolean {
  if (priority === 'last') return true
  if (priority === 'first') return false
  return priority === 'low' ? later.key <= earlier.key : later.key >= earlier.key
}

export function sameVoice(a: Note | null, b: Note | null): boolean {
  return a === b || (a !== null && b !== null && a.id === b.id && a.key === b.key)
}
