import type { Duty } from '../domain/units.ts'

const FULL = 65535

/**
 * Ticks of the timer's 1 + `top` for which the lamp is on: first the wire, then the box, both rounded half up,
 *
 *     duty16 = floor(duty x 65535 + 1/2)                                      u16, on the wire
 *     ticks  = floor((2 x duty16 x (1 + top) + 65535) / (2 x 65535))          at least 1, at most 1 + top
 *
 * In non-inverting fast PWM the output is on for OCR + 1 ticks (ATmega640/1280/2560 data sheet), so the compare register
 * takes ticks - 1. A compare value of 0 still gives a pulse of one tick: that is the shortest, and darkness is the pin
 * taken off the timer, never a duty.
 */
export function dutyToTicks(duty: Duty, top: number): number {
  const period = top + 1
  const onWire = Math.min(FULL, Math.max(0, Math.round(duty * FULL)))
  const ticks = Math.floor((2 * onWire * period + FULL) / (2 * FULL))
  return Math.min(period, Math.max(1, ticks))
}
