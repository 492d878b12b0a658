import type { Note } from '../domain/part-event.ts'

/** A note that is held: on a lamp of the part (its index), or waiting for one (-1). */
export interface Placed {
  readonly note: Note
  readonly lamp: number
  /** The key is up, a pedal holds the note. */
  readonly released: boolean
}
