import type { OutputId } from '../domain/ids.ts'
import type { LampState } from '../domain/lamp-state.ts'
import type { LampSetting } from './serial-frame.ts'

/** A lamp's state as a serial frame has it. Throws TypeError for a lamp that was resolved for MIDI. */
export function lampSetting(
  output: OutputId,
  slot: number,
  state: LampState,
): Pick<LampSetting, 'rate' | 'duty'> {
  if (!state.on) return { rate: 0, duty: 0 }
  if (state.drive.kind !== 'timer') {
    throw new TypeError(
      `Output ${output}, slot ${slot}: a serial lamp needs a rate, and got a MIDI key; resolve it for this output`,
    )
  }
  return { rate: state.drive.rate, duty: Math.round((state.drive.duty ?? state.duty) * 65535) }
}

/** The pulse's flash that a lamp is told with; null: it is no pulse. */
export function flashOf(state: LampState): number | null {
  return state.on ? (state.flash ?? null) : null
}

/** Whether a flash has to be sent though rate and duty are what they were: it begins with its frame (PROTOCOL.md, rates under 30.5 Hz). */
export function isNextFlash(flash: number | null, before: number | null): boolean {
  return flash !== null && flash !== before
}
