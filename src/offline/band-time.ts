import type { LampIndex } from '../domain/ids.ts'
import type { LampChange } from '../domain/lamp-state.ts'
import type { Hz, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { createSpanUnion } from './span-union.ts'

/** The usual band of concern for flicker, as epilepsy charities give it (second-hand). */
export const BAND_LOW_HZ: Hz = 3
export const BAND_HIGH_HZ: Hz = 30

export interface BandTime {
  /** `begun`: lamps that begin a flash of a pulse. */
  frame(at: Micros, changes: readonly LampChange[], begun: ReadonlySet<LampIndex>): void
  finish(endAt: Micros): Micros
}

/**
 * Time during which at least one lamp flashes 3 to 30 times a second: it is lit at such a rate, or it is gated, which
 * is when two successive onsets (dark to lit at any rate, or the beginning of a pulse's flash) of that lamp lie 1/30 to
 * 1/3 of a second apart; then the time from one onset to the next counts. Limits belong to the band. Different lamps taking turns are not gating.
 */
export function createBandTime(lamps: number): BandTime {
  const shortest = Math.floor(MICROS_PER_SECOND / BAND_HIGH_HZ)
  const longest = Math.ceil(MICROS_PER_SECOND / BAND_LOW_HZ)
  const states = Array.from({ length: lamps }, () => ({ on: false, inBand: false, onset: -Infinity }))
  const spans = createSpanUnion(longest)
  let inBand = 0
  let since: Micros = 0

  return {
    frame(at, changes, begun) {
      const before = inBand
      for (const { index, state } of changes) {
        const lamp = states[index]!
        if (state.on && (!lamp.on || begun.has(index))) {
          const gap = at - lamp.onset
          // While a rate is in the band, time from `since` on counts anyway.
          const to = before > 0 ? Math.min(at, since) : at
          if (gap >= shortest && gap <= longest && lamp.onset < to) spans.add(lamp.onset, to)
          lamp.onset = at
        }
        const now = state.on && state.realHz >= BAND_LOW_HZ && state.realHz <= BAND_HIGH_HZ
        inBand += Number(now) - Number(lamp.inBand)
        lamp.on = state.on
        lamp.inBand = now
      }
      if (before > 0 && inBand === 0) spans.add(since, at)
      if (before === 0 && inBand > 0) since = at
    },
    finish(endAt) {
      if (inBand > 0) {
        spans.add(since, endAt)
        since = endAt
      }
      return spans.total()
    },
  }
}
