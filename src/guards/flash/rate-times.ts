import type { Hz, Micros, Seconds } from '../../domain/units.ts'
import { MICROS_PER_SECOND } from '../../domain/units.ts'
import { rounded } from '../../domain/rounded.ts'

export interface RateTime {
  /** A step of twelve equal ones to an octave, from 440 Hz. */
  readonly hz: Hz
  readonly seconds: Seconds
}

/** How long one lamp was lit, and at which rates. */
export interface RateTimes {
  /** From here on the lamp is lit at that rate; undefined: it is dark. Times never go back. */
  change(at: Micros, hz: Hz | undefined): void
  litSeconds(at: Micros): Seconds
  /** Rates to a twelfth of an octave, the one with the most time first, at most `most` of them. */
  rates(at: Micros, most: number): readonly RateTime[]
  renew(at: Micros): void
}

/** Room for each rate that was met, of which an octave has twelve. */
export function createRateTimes(): RateTimes {
  const times = new Map<number, Micros>()
  let step: number | undefined
  let since: Micros = 0
  let lit: Micros = 0

  function settle(at: Micros): void {
    if (step !== undefined && at > since) {
      times.set(step, (times.get(step) ?? 0) + at - since)
      lit += at - since
    }
    since = at
  }

  return {
    change(at, hz) {
      settle(at)
      step = hz === undefined ? undefined : Math.round(12 * Math.log2(hz / 440))
    },
    litSeconds(at) {
      settle(at)
      return rounded(lit / MICROS_PER_SECOND, 6, 'litSeconds')
    },
    rates(at, most) {
      settle(at)
      return [...times]
        .sort(([stepA, a], [stepB, b]) => b - a || stepA - stepB)
        .slice(0, most)
        .map(([each, micros]) => ({
          hz: rounded(440 * 2 ** (each / 12), 4, 'hz'),
          seconds: rounded(micros / MICROS_PER_SECOND, 6, 'seconds'),
        }))
    },
    renew(at) {
      times.clear()
      lit = 0
      since = at
    },
  }
}
