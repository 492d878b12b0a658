import type { LampIndex } from '../../domain/ids.ts'
import type { LampState } from '../../domain/lamp-state.ts'
import type { Micros } from '../../domain/units.ts'
import { createCoveredTime } from './covered-time.ts'
import type { FlashBand } from './flash-band.ts'

export interface FlashingTime {
  /** One lamp's change, in order of time. `isOnset`: its light begins there, or a pulse's flash does. */
  change(at: Micros, lamp: LampIndex, state: LampState, isOnset: boolean): void
  /** Time with at least one lamp flashing. */
  total(at: Micros): Micros
  ofLamp(lamp: LampIndex, at: Micros): Micros
  renew(at: Micros): void
}

/**
 * Time during which a lamp flashes at a rate of the band: it is lit at such a rate, or it is gated, which is when two successive onsets of it (dark to lit at any
 * rate, or the beginning of a pulse's flash) lie as far apart as flashes of the band do; then the time from one onset to the next counts. Different lamps taking
 * turns are not gating.
 */
export function createFlashingTime(lamps: number, band: FlashBand): FlashingTime {
  const own = Array.from({ length: lamps }, () => ({
    isIn: false,
    onset: -Infinity,
    time: createCoveredTime(band.longest),
  }))
  const all = createCoveredTime(band.longest)
  return {
    change(at, index, state, isOnset) {
      const lamp = own[index]!
      if (isOnset) {
        const gap = at - lamp.onset
        if (gap >= band.shortest && gap <= band.longest) {
          lamp.time.cover(lamp.onset, at)
          all.cover(lamp.onset, at)
        }
        lamp.onset = at
      }
      const isIn = state.on && band.has(state.realHz)
      if (isIn === lamp.isIn) return
      lamp.isIn = isIn
      for (const time of [lamp.time, all]) {
        if (isIn) time.enter(at)
        else time.leave(at)
      }
    },
    total: (at) => all.total(at),
    ofLamp: (lamp, at) => own[lamp]!.time.total(at),
    renew(at) {
      all.renew(at)
      for (const lamp of own) {
        lamp.onset = -Infinity
        lamp.time.renew(at)
      }
    },
  }
}
