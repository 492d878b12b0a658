import type { LampChange } from '../domain/lamp-state.ts'
import type { LampIndex } from '../domain/ids.ts'
import type { Hz, Micros, Seconds } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { createBandTime } from './band-time.ts'
import { createFieldFlashes } from './field-flashes.ts'
import { createFlashStarts, pulsesOf } from './flash-starts.ts'
import { beginTrain, darken, darkTrain, lightTrain, passEdge } from './pulse-train.ts'
import type { PulseTrain } from './pulse-train.ts'
import { rounded } from './rounded.ts'
import { createSlidingCount } from './sliding-count.ts'

/** From this rate on a lamp is taken for steady light (some people see flicker up to here; epilepsy charities, second-hand). */
export const SEEN_STEADY_HZ: Hz = 60

export interface FlashFigure {
  /** The most flashes in any one second, of one lamp or of the field, whichever is more. */
  readonly perSecondMax: number
  /** Time with a lamp flashing at 3 to 30 Hz, see `createBandTime`. */
  readonly bandSeconds: Seconds
}

export interface FlashFigures {
  /** Moments in order of time. */
  frame(at: Micros, changes: readonly LampChange[]): void
  finish(endAt: Micros): FlashFigure
}

interface Seen {
  readonly at: Micros
  readonly lamp: LampIndex
  readonly rise: boolean
}

/**
 * Flashes an eye could see. A flash is a pair of opposing changes of light (WCAG 2.2, success criterion 2.3.1, which
 * allows three in any one second; ITU-R BT.1702 has the same limit, cited second-hand). Here: light that comes on and
 * goes out again, counted at the microsecond in which it goes out; "one second" is any half-open second.
 * - One lamp: below 60 Hz its pulses themselves, from 60 Hz on its being lit. A pulse of the song's is counted flash by
 *   flash, each from when its lamp is told of it.
 * - The field: see `createFieldFlashes`.
 * Brightness, area, colour and distance are not known and not weighed: this is a count, no judgement.
 * Memory is that of one second; the cost is per change and per pulse below 60 Hz.
 */
export function createFlashFigures(lamps: number): FlashFigures {
  const trains: readonly PulseTrain[] = Array.from({ length: lamps }, darkTrain)
  const counts = trains.map(() => createSlidingCount(MICROS_PER_SECOND))
  const pulsing = new Set<LampIndex>()
  const starts = createFlashStarts(lamps)
  const field = createFieldFlashes()
  const band = createBandTime(lamps)
  let now: Micros = 0

  function see(seen: readonly Seen[]): void {
    for (const { at, lamp, rise } of seen) {
      if (!rise) counts[lamp]!.add(at)
      field.add(at, rise)
    }
  }

  function advance(to: Micros): void {
    while (pulsing.size > 0 && now < to) {
      // A second at a time, so that a long note takes no more room than a short one.
      now = Math.min(to, now + MICROS_PER_SECOND)
      const seen: Seen[] = []
      for (const lamp of pulsing) {
        const train = trains[lamp]!
        while (train.next < now) {
          const at = Math.round(train.next)
          passEdge(train)
          seen.push({ at, lamp, rise: train.level > 0 })
        }
      }
      see(seen.sort((a, b) => a.at - b.at))
    }
    now = to
  }

  return {
    frame(at, changes) {
      if (at < now) throw new RangeError(`a moment at ${at} us comes after one at ${now} us`)
      advance(at)
      const begun = new Set<LampIndex>()
      for (const { index, state } of changes) {
        const train = trains[index]
        if (train === undefined) throw new RangeError(`there is no lamp ${index} in the rig`)
        const before = train.level > 0
        if (starts.isStart(index, state)) begun.add(index)
        if (state.on) {
          const steadyPeriod = MICROS_PER_SECOND / SEEN_STEADY_HZ
          const light = begun.has(index) ? beginTrain : lightTrain
          const { hz, duty } = pulsesOf(state)
          light(train, at, MICROS_PER_SECOND / hz, duty, steadyPeriod)
        } else darken(train)
        if (train.period > 0) pulsing.add(index)
        else pulsing.delete(index)
        const after = train.level > 0
        if (after !== before) see([{ at, lamp: index, rise: after }])
      }
      band.frame(at, changes, begun)
    },
    finish(endAt) {
      advance(endAt)
      const perSecondMax = counts.reduce((max, count) => Math.max(max, count.max), field.finish())
      return { perSecondMax, bandSeconds: rounded(band.finish(endAt) / MICROS_PER_SECOND, 6, 'bandSeconds') }
    },
  }
}
