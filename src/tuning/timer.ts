import type { Drive } from '../domain/lamp-state.ts'
import type { TimerSpec } from '../domain/rig.ts'
import type { Hz } from '../domain/units.ts'

export type TimerDrive = Extract<Drive, { kind: 'timer' }>

export interface TimerRate {
  readonly drive: TimerDrive
  /** What the timer really does: clockHz / (prescaler x (1 + top)). */
  readonly realHz: Hz
}

const MAX_RATE = 0xffff_ffff

/** Hz x 65536 as it goes over the wire, rounded half up; undefined where that is no u32 from 1 up (0 means dark). */
export function hzToRate(hz: Hz): number | undefined {
  const rate = Math.round(hz * 65536)
  return rate >= 1 && rate <= MAX_RATE ? rate : undefined
}

/**
 * What the lamp box makes of `hz`. Fast PWM, f = clock / (prescaler x (1 + TOP)): ATmega640/1280/2560 data sheet, 16-bit
 * timers. Two roundings, both half up, the second in whole numbers so that the box can do the very same:
 *
 *     rate   = floor(hz x 65536 + 1/2)                                        u32, on the wire
 *     period = floor((2 x clockHz x 65536 + prescaler x rate) / (2 x prescaler x rate))    ticks
 *     top    = period - 1
 *
 * with the first (smallest) prescaler whose period is at most 2^bits. Undefined where the rate does not fit the wire, no
 * prescaler is coarse enough, or the period is under 2 ticks (a pulse needs one on and one off).
 *
 * Doubles do this exactly. hz x 65536 only moves the exponent. With a clock under 2^32 Hz and prescalers under 2^16, both
 * sides of the division are whole and under 2^51; and where a < 2^53, a/b is either whole or at least 1/b below the
 * next whole number, which is more than half a unit in the last place, so rounding the quotient never lifts it over
 * the floor. (A prescaler in sixteenths, as on RP2040, scales both sides by 16: still under 2^53 at its 125 MHz.)
 */
export function quantiseToTimer(hz: Hz, timer: TimerSpec): TimerRate | undefined {
  const rate = hzToRate(hz)
  if (rate === undefined) return undefined
  const longest = 2 ** timer.bits
  for (const prescaler of timer.prescalers) {
    const period = timerPeriod(rate, timer.clockHz, prescaler)
    if (period > longest) continue
    if (period < 2) return undefined
    const realHz = timer.clockHz / (prescaler * period)
    return { drive: { kind: 'timer', rate, prescaler, top: period - 1 }, realHz }
  }
  return undefined
}

/** Ticks a period, rounded half up; formula above. */
function timerPeriod(rate: number, clockHz: Hz, prescaler: number): number {
  const divisor = prescaler * rate
  return Math.floor((2 * clockHz * 65536 + divisor) / (2 * divisor))
}
