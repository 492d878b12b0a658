import type { Part } from '../../domain/song.ts'

/** Whether somebody chose the keys that a part takes: with all 128 left open nobody meant the ends. */
export function hasChosenKeys({ notes, strategy }: Part): boolean {
  return notes[0] > 0 || notes[1] < 127 || strategy.kind === 'chime' || strategy.kind === 'steps'
}
