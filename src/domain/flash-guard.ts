import { CONCERN_BAND } from './pulse-rate.ts'
import type { Hz, Seconds } from './units.ts'

/**
 * What is done about light that flashes so that it can be seen.
 * - `warn`: it is counted and told.
 * - `fold`: rates of 3 Hz and more that would be seen, and all that notes are slower than, move up by octaves until they are not.
 * - `glow`: between notes a lamp stays lit, at `hz`, with its duty as it was, until for `seconds` no lamp has sounded.
 * - `limit`: at most `changes` of the whole field from lit to dark or back in any one second; notes that would end sooner are tied.
 * - `off`: it is counted, and nothing is told while it plays. `since`: the day it was turned off.
 */
export type FlashGuard =
  | { readonly action: 'warn' }
  | { readonly action: 'fold' }
  | { readonly action: 'glow'; readonly seconds: Seconds; readonly hz: Hz }
  | { readonly action: 'limit'; readonly changes: number }
  | { readonly action: 'off'; readonly since: string }

export type FlashAction = FlashGuard['action']

/** From this rate on a lamp is taken for steady light (some people see flicker up to here; epilepsy charities, second-hand). */
export const SEEN_STEADY_HZ: Hz = 60

/** Flashes in any one second that WCAG 2.2, success criterion 2.3.1, allows; a flash is a pair of opposing changes. */
export const FLASHES_ALLOWED = 3

/** The song's own, else the show's. */
export function flashGuardOf(
  { guards }: { readonly guards: { readonly flash: FlashGuard } },
  song: { readonly flash?: FlashGuard | undefined },
): FlashGuard {
  return song.flash ?? guards.flash
}

/** What the guard does, in a few words, for the stage, the sheet and the notice. */
export function flashGuardWords(guard: FlashGuard): string {
  switch (guard.action) {
    case 'warn':
      return 'warns: flashes are counted and told, nothing is held back'
    case 'fold':
      return `folds: rates of ${CONCERN_BAND[0]} to ${SEEN_STEADY_HZ} Hz move up by octaves`
    case 'glow':
      return `glows: between notes lamps stay lit above hearing, until ${guard.seconds} s after the last`
    case 'limit':
      return `limits: at most ${guard.changes} changes of the field in a second, notes are tied`
    case 'off':
      return `is off since ${guard.since}: nothing is told or held back`
  }
}
