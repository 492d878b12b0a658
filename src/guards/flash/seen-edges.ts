import { SEEN_STEADY_HZ } from '../../domain/flash-guard.ts'
import type { LampIndex } from '../../domain/ids.ts'
import type { LampState } from '../../domain/lamp-state.ts'
import type { Micros } from '../../domain/units.ts'
import { MICROS_PER_SECOND } from '../../domain/units.ts'
import { pulsesOf } from './flash-starts.ts'
import { beginTrain, darken, darkTrain, lightTrain, passEdge } from './pulse-train.ts'
import type { PulseTrain } from './pulse-train.ts'

/** Light comes on or goes out as an eye sees it, at a whole microsecond. */
export interface SeenEdge {
  readonly at: Micros
  readonly lamp: LampIndex
  readonly isRise: boolean
}

export interface SeenEdges {
  /** A lamp's change, in order of time. `begins`: a pulse's flash begins there, see `createFlashStarts`. */
  change(at: Micros, lamp: LampIndex, state: LampState, begins: boolean): void
  /** Hands on all edges before `to` and those of changes at it, in order of time. */
  drain(to: Micros, see: (edge: SeenEdge) => void): void
}

const STEADY_PERIOD = MICROS_PER_SECOND / SEEN_STEADY_HZ

/**
 * What lamps really do, edge by edge: below 60 Hz their pulses themselves, from 60 Hz on their being lit. A pulse of the song's is taken flash by flash, each from
 * when its lamp is told of it. A change costs its lamp's pulses since the last one; those of lamps that only go on are worked out when edges are asked for, a second
 * at a time, so that a long note takes no more room than a short one.
 */
export function createSeenEdges(lamps: number): SeenEdges {
  const trains: readonly PulseTrain[] = Array.from({ length: lamps }, darkTrain)
  const pulsing = new Set<LampIndex>()
  let waiting: SeenEdge[] = []
  let drained: Micros = 0

  /** An edge that would be rounded to `to` is of that moment, whose change may do away with it. */
  function pass(lamp: LampIndex, to: Micros): void {
    const train = trains[lamp]!
    while (train.next < to - 0.5) {
      const at = Math.round(train.next)
      passEdge(train)
      waiting.push({ at, lamp, isRise: train.level > 0 })
    }
  }

  return {
    change(at, lamp, state, begins) {
      pass(lamp, at)
      const train = trains[lamp]!
      const wasLit = train.level > 0
      if (state.on) {
        const { hz, duty } = pulsesOf(state)
        const light = begins ? beginTrain : lightTrain
        light(train, at, MICROS_PER_SECOND / hz, duty, STEADY_PERIOD)
      } else darken(train)
      if (train.period > 0) pulsing.add(lamp)
      else pulsing.delete(lamp)
      const isLit = train.level > 0
      if (isLit !== wasLit) waiting.push({ at, lamp, isRise: isLit })
    },
    drain(to, see) {
      do {
        drained = pulsing.size > 0 ? Math.min(to, drained + MICROS_PER_SECOND) : to
        for (const lamp of pulsing) pass(lamp, drained)
        const seen = waiting.sort((a, b) => a.at - b.at)
        waiting = []
        for (const edge of seen) see(edge)
      } while (drained < to)
    },
  }
}
