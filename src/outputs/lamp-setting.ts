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
  return { rate: state.drive.rate, duty: Math.round(state.duty * 65535) }
}
