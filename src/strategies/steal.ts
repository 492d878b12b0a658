import { z } from 'zod'
import type { Placed } from './placed.ts'

/** Whose lamp a new note takes when none is free. */
export type Steal = 'oldest' | 'quietest' | 'lowest' | 'highest' | 'none'

export const stealSchema = z
  .enum(['oldest', 'quietest', 'lowest', 'highest', 'none'])
  .default('oldest')
  .describe('Whose lamp a new note takes when none is free; notes that only a pedal holds go first')

/** The note to rob, from notes in the order they were struck; undefined when none may be. Ties go to the older note. */
export function victimOf(notes: readonly Placed[], steal: Steal): Placed | undefined {
  if (steal === 'none') return undefined
  let victim: Placed | undefined
  for (const placed of notes) {
    if (placed.lamp >= 0 && (victim === undefined || goesBefore(placed, victim, steal))) victim = placed
  }
  return victim
}

function goesBefore(later: Placed, earlier: Placed, steal: Steal): boolean {
  if (later.released !== earlier.released) return later.released
  switch (steal) {
    case 'quietest':
      return later.note.velocity < earlier.note.velocity
    case 'lowest':
      return later.note.key < earlier.note.key
    case 'highest':
      return later.note.key > earlier.note.key
    default:
      return false
  }
}
