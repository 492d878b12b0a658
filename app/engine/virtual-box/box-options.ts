import type { TimerSpec } from '../../../src/domain/rig.ts'

export interface VirtualBoxOptions {
  /** Slots 0 to `lamps` - 1; 1 to 256. */
  readonly lamps: number
  readonly timer: TimerSpec
  /** After power-up or reset the box hears nothing for so long, as a board with a boot loader does. */
  readonly bootMs: number
  /** Whether it says who it is when it has started, unasked. */
  readonly announces: boolean
  /** Set frames for later that it can hold. */
  readonly mostScheduled: number
}

/** A board of the ATmega2560's clock and timers, with a lamp in each of 16 slots. */
export const VIRTUAL_BOX: VirtualBoxOptions = {
  lamps: 16,
  timer: { clockHz: 16_000_000, prescalers: [1, 8, 64, 256, 1024], bits: 16 },
  bootMs: 0,
  announces: false,
  mostScheduled: 8,
}

/** Throws RangeError for a box that its own identity could not describe. */
export function checkBoxOptions({ lamps, timer }: VirtualBoxOptions): void {
  if (!Number.isInteger(lamps) || lamps < 1 || lamps > 256) {
    throw new RangeError(`A lamp box has 1 to 256 lamps, not ${lamps}`)
  }
  if (timer.prescalers.length === 0 || timer.prescalers.length > 255) {
    throw new RangeError(`A lamp box names 1 to 255 prescalers, not ${timer.prescalers.length}`)
  }
}
