import type { FlashGuard } from '../../domain/flash-guard.ts'
import { FLASHES_ALLOWED, SEEN_STEADY_HZ } from '../../domain/flash-guard.ts'
import type { Hz } from '../../domain/units.ts'
import { foldOf, mayFlashAt } from '../../tuning/unseen.ts'
import type { Gravity } from './finding.ts'

/** What a flash guard makes of something that would flash: how grave it still is, and what is to be said besides. */
export interface Guarded {
  readonly gravity: Gravity
  /** Begins with a blank; empty: the guard does nothing about it. */
  readonly words: string
}

/** Of lamps that are switched on and off too often. `isKeptLit`: all of them can glow, at one time. */
export function guardedPace(guard: FlashGuard, gravity: Gravity, isKeptLit: boolean): Guarded {
  switch (guard.action) {
    case 'limit': {
      const words = ` Of this the flash guard leaves at most ${guard.changes} changes of the field in any second, and ties the notes that would end sooner.`
      return { gravity: guard.changes <= 2 * FLASHES_ALLOWED ? 'note' : gravity, words }
    }
    case 'glow':
      return isKeptLit
        ? {
            gravity: 'note',
            words: ` The flash guard keeps these lamps lit above hearing between, until ${guard.seconds} s after the last note.`,
          }
        : {
            gravity,
            words: ' The flash guard keeps lamps lit between, but not all of these: see what is said of it.',
          }
    default:
      return { gravity, words: '' }
  }
}

/** The rate that a pulse really has: as asked, or moved up by octaves. */
export function pulseUnder(guard: FlashGuard, hz: Hz): Hz {
  const fold = foldOf(guard)
  let moved = hz
  while (!mayFlashAt(moved, true, fold)) moved *= 2
  return moved
}

/** Why nothing slow is seen of a song's notes. */
export function foldedWords(guard: FlashGuard): string {
  return `The flash guard (${guard.action}) moves them up by octaves, to ${SEEN_STEADY_HZ} Hz and above`
}
