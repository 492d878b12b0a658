import type { LampIndex } from '../domain/ids.ts'
import type { Duty, Hz, Micros } from '../domain/units.ts'

/** What a lamp's light does from `at` on. */
export type LightChange =
  | {
      readonly index: LampIndex
      readonly at: Micros
      readonly hz: Hz
      readonly duty: Duty
      /** A flash begins there, whatever the lamp was in; else one that pulses keeps its phase. */
      readonly begins?: boolean | undefined
    }
  | { readonly index: LampIndex; readonly at: Micros; readonly dark: true }

/** RangeError, in words, for a change that no lamp of `lamps` can make. */
export function checkLightChange(change: LightChange, lamps: number): void {
  const { index, at } = change
  if (!Number.isInteger(index) || index < 0 || index >= lamps) {
    throw new RangeError(`lamp ${index} is not one of the ${lamps} lamps of this pickup, 0 to ${lamps - 1}`)
  }
  if (!Number.isFinite(at))
    throw new RangeError(`lamp ${index}: the time must be a number of microseconds, got ${at}`)
  if ('dark' in change) return
  if (!(change.hz > 0 && change.hz < Infinity)) {
    throw new RangeError(`lamp ${index} at ${at} us: the rate must be over 0 Hz, got ${change.hz}`)
  }
  if (!(change.duty >= 0 && change.duty <= 1)) {
    throw new RangeError(`lamp ${index} at ${at} us: the duty must be 0 to 1, got ${change.duty}`)
  }
}
