import type { LampChange } from '../domain/lamp-state.ts'
import { lampAmps } from '../domain/rig.ts'
import type { Rig } from '../domain/rig.ts'
import type { Amps, Micros } from '../domain/units.ts'
import { rounded } from '../domain/rounded.ts'

export interface SupplyFigure {
  readonly peakAmps: Amps
  readonly meanAmps: Amps
}

export interface SupplyFigures {
  frame(at: Micros, changes: readonly LampChange[]): void
  /** Figures by supply id, to the microampere; the mean is over 0..endAt. */
  finish(endAt: Micros): Readonly<Record<string, SupplyFigure>>
}

interface Draw {
  lit: number
  peakNow: Amps
  meanNow: Amps
  peak: Amps
  /** Amps times microseconds. */
  charge: number
  since: Micros
}

/**
 * What the lamps draw. Peak: the largest sum of watts / volts over the lamps lit at one time, as if all their pulses
 * coincided, since they can (common practice, no source). Mean: the time average of watts / volts * duty.
 * Constant memory; each change costs the same however many lamps there are.
 */
export function createSupplyFigures(rig: Rig): SupplyFigures {
  const draws = new Map(rig.supplies.map((supply) => [supply.id, newDraw()]))
  const lamps = rig.lamps.map((lamp) => {
    const supply = rig.supplies.find(({ id }) => id === lamp.supply)
    if (supply === undefined)
      throw new RangeError(`lamp ${lamp.id}: there is no supply ${lamp.supply} in the rig`)
    return { draw: draws.get(supply.id)!, amps: lampAmps(lamp, supply), on: false, mean: 0 }
  })

  return {
    frame(at, changes) {
      for (const { index, state } of changes) {
        const lamp = lamps[index]
        if (lamp === undefined) throw new RangeError(`there is no lamp ${index} in the rig`)
        const { draw } = lamp
        settle(draw, at)
        const mean = state.on ? lamp.amps * state.duty : 0
        draw.lit += Number(state.on) - Number(lamp.on)
        draw.peakNow += lamp.amps * (Number(state.on) - Number(lamp.on))
        draw.meanNow += mean - lamp.mean
        lamp.on = state.on
        lamp.mean = mean
        if (draw.lit === 0) {
          // Rounding errors end with the last lamp.
          draw.peakNow = 0
          draw.meanNow = 0
        }
      }
    },
    finish(endAt) {
      const figures: Record<string, SupplyFigure> = {}
      for (const [id, draw] of draws) {
        settle(draw, endAt)
        const meanAmps = endAt > 0 ? draw.charge / endAt : 0
        figures[id] = {
          peakAmps: rounded(draw.peak, 6, `${id}: peakAmps`),
          meanAmps: rounded(meanAmps, 6, `${id}: meanAmps`),
        }
      }
      return figures
    },
  }
}

function newDraw(): Draw {
  return { lit: 0, peakNow: 0, meanNow: 0, peak: 0, charge: 0, since: 0 }
}

function settle(draw: Draw, now: Micros): void {
  if (now <= draw.since) return
  // Only what lasts counts: the states passed through within one moment are never seen by the supply.
  draw.peak = Math.max(draw.peak, draw.peakNow)
  draw.charge += draw.meanNow * (now - draw.since)
  draw.since = now
}
