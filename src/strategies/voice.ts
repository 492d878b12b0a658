import type { Voice } from '../domain/intent.ts'
import type { Note } from '../domain/part-event.ts'
import type { Cents } from '../domain/units.ts'

/** The voice that sounds a note, its pitch times `ratio` plus `cents`. */
export function voiceOf(note: Note, ratio = 1, cents: Cents = 0): Voice {
  return {
    note: note.id,
    key: note.key,
    channel: note.channel,
    velocity: note.velocity,
    ratio,
    cents,
    ...(note.duty === undefined ? {} : { duty: note.duty }),
  }
}
