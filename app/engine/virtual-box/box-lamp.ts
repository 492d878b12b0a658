import type { TimerSpec } from '../../../src/domain/rig.ts'
import type { Duty, Hz } from '../../../src/domain/units.ts'
import { dutyToTicks } from '../../../src/tuning/duty-ticks.ts'
import { quantiseToTimer } from '../../../src/tuning/timer.ts'

/** What a lamp of the box does. Dark: all but `on` is 0. */
export interface BoxLamp {
  readonly on: boolean
  /** As the timer really makes it. */
  readonly hz: Hz
  /** Ticks on of the ticks of a period. */
  readonly duty: Duty
  /** As it was told: Hz x 65536, and of 65535. */
  readonly rate: number
  readonly duty16: number
  /** In the timer's registers. */
  readonly prescaler: number
  readonly top: number
  readonly ticksOn: number
}

export const DARK_LAMP: BoxLamp = {
  on: false,
  hz: 0,
  duty: 0,
  rate: 0,
  duty16: 0,
  prescaler: 0,
  top: 0,
  ticksOn: 0,
}

/** What the timer makes of a rate and a duty; undefined where it cannot make that rate. */
export function boxLamp(rate: number, duty16: number, timer: TimerSpec): BoxLamp | undefined {
  if (rate === 0) return DARK_LAMP
  const made = quantiseToTimer(rate / 65536, timer)
  if (!made) return undefined
  const { prescaler, top } = made.drive
  const ticksOn = dutyToTicks(duty16 / 65535, top)
  return { on: true, hz: made.realHz, duty: ticksOn / (top + 1), rate, duty16, prescaler, top, ticksOn }
}
