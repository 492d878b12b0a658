import type { TimerSpec } from '../domain/rig.ts'
import { type BoxFrame, SERIAL_VERSION } from './serial-frame.ts'

type IdentityFrame = Extract<BoxFrame, { type: 'identity' }>

/** Most slots that a frame can name. */
export const MOST_SLOTS = 256

/** What a lamp box says it is. */
export interface BoxIdentity {
  readonly version: number
  /** Slots 0 to `lamps` - 1. The byte on the wire cannot say 256: 0, which no box would be, stands for it. */
  readonly lamps: number
  /** What makes its pulses; undefined where no timer can be as it says. */
  readonly timer: TimerSpec | undefined
}

export function boxIdentity(frame: IdentityFrame): BoxIdentity {
  const { version, clockHz, bits } = frame
  const prescalers = [...new Set(frame.prescalers)].sort((a, b) => a - b)
  const possible = clockHz >= 1 && bits >= 1 && bits <= 32 && (prescalers[0] ?? 0) >= 1
  return {
    version,
    lamps: frame.lamps === 0 ? MOST_SLOTS : frame.lamps,
    timer: possible ? { clockHz, prescalers, bits } : undefined,
  }
}

/** In words, how a box is not as the show has it; undefined where it is. */
export function identityDiffers(
  { version, timer }: BoxIdentity,
  shown: TimerSpec,
  missing: readonly number[],
): string | undefined {
  const found: string[] = []
  if (version !== SERIAL_VERSION) {
    found.push(
      `the box speaks version ${version} of the frames, this program version ${SERIAL_VERSION}: its lamps stay dark until it has firmware of that version`,
    )
  }
  if (!timer) {
    found.push(`the box names a timer that cannot be, so the show's is kept`)
  } else {
    if (timer.clockHz !== shown.clockHz) {
      found.push(`the box's clock is ${timer.clockHz} Hz, the show says ${shown.clockHz} Hz`)
    }
    if (timer.bits !== shown.bits) {
      found.push(`the box's timers have ${timer.bits} bits, the show says ${shown.bits}`)
    }
    if (timer.prescalers.join() !== shown.prescalers.join()) {
      found.push(
        `the box's prescalers are ${timer.prescalers.join(', ')}, the show says ${shown.prescalers.join(', ')}`,
      )
    }
  }
  if (missing.length > 0) found.push(`the box has no slot ${missing.join(', ')}, so those lamps stay dark`)
  return found.length > 0 ? found.join('; ') : undefined
}
