import type { LampIndex } from '../../domain/ids.ts'
import type { LampState, Lit } from '../../domain/lamp-state.ts'
import { DARK } from '../../domain/lamp-state.ts'
import type { Duty, Hz } from '../../domain/units.ts'

/** Tells of each lamp, change by change, whether it begins a flash there, whatever it was in. */
export interface FlashStarts {
  /** The lamp's next change. */
  isStart(lamp: LampIndex, state: LampState): boolean
}

/**
 * A lamp that is driven as a pulse is told of every flash, and a timer begins it as it is told: with a frame for the next flash, and with one that changes the flash it is in (assets/firmware/PROTOCOL.md, rates under
 * 30.5 Hz). All else goes on in the phase it has: MIDI says a rate and no more, so a lamp there flashes at its own pace.
 */
export function createFlashStarts(lamps: number): FlashStarts {
  const states: LampState[] = Array.from({ length: lamps }, () => DARK)
  return {
    isStart(lamp, state) {
      const before = states[lamp]
      states[lamp] = state
      if (!state.on || state.flash === undefined || state.drive.kind !== 'timer') return false
      if (!before?.on || before.drive.kind !== 'timer' || before.flash !== state.flash) return true
      return before.drive.rate !== state.drive.rate || before.duty !== state.duty
    },
  }
}

/** The pulses that a lamp gives until it is told again. A flash that is begun by us has a longer period than its pulse, so that none follows by itself. */
export function pulsesOf({ realHz, duty, drive }: Lit): { readonly hz: Hz; readonly duty: Duty } {
  const own = drive.kind === 'timer' ? drive.duty : undefined
  return own === undefined || duty <= 0 ? { hz: realHz, duty } : { hz: (realHz * own) / duty, duty: own }
}
