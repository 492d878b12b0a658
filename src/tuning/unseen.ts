import type { FlashGuard } from '../domain/flash-guard.ts'
import { SEEN_STEADY_HZ } from '../domain/flash-guard.ts'
import { CONCERN_BAND } from '../domain/pulse-rate.ts'
import type { Hz } from '../domain/units.ts'

/** Which rates a flash guard moves up by octaves until they are taken for steady light: `band`: of notes all slower ones, of pulses those from 3 Hz on; `all`: of pulses too. */
export type Fold = 'band' | 'all'

/** What a flash guard moves. A lamp that flashes by its own rate cannot be tied: under a limit none does. */
export function foldOf({ action }: FlashGuard): Fold | undefined {
  if (action === 'limit') return 'all'
  return action === 'fold' ? 'band' : undefined
}

/** The lowest that a note may sound on a lamp. */
export function noteFloor(lowHz: Hz, fold: Fold | undefined): Hz {
  return fold ? Math.max(lowHz, SEEN_STEADY_HZ) : lowHz
}

/** Whether a lamp may flash at that rate. */
export function mayFlashAt(hz: Hz, isPulse: boolean, fold: Fold | undefined): boolean {
  if (!fold || hz >= SEEN_STEADY_HZ) return true
  return fold === 'band' && isPulse && hz < CONCERN_BAND[0]
}
