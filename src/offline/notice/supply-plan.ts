import type { Lamp, Supply } from '../../domain/rig.ts'
import { lampAmps } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import type { Amps, Watts } from '../../domain/units.ts'
import type { MostFigures, Of } from '../gig-check/night-figures.ts'

/** What a supply was planned for, and what was counted of it. */
export interface SupplyPlan {
  readonly supply: Supply
  readonly lamps: readonly Lamp[]
  /** That it is to give at most: maxAmps x usable. */
  readonly limitAmps: Amps
  /** All its lamps lit at one time (watts / volts; common practice, no source). */
  readonly allAmps: Amps
  readonly allWatts: Watts
  /** Of the takes; absent: nothing was counted. */
  readonly peak?: Of<Amps> | undefined
  readonly mean?: Of<Amps> | undefined
}

export function supplyPlans({ rig }: Show, most: MostFigures | undefined): SupplyPlan[] {
  return rig.supplies.map((supply) => {
    const lamps = rig.lamps.filter((lamp) => lamp.supply === supply.id)
    return {
      supply,
      lamps,
      limitAmps: supply.maxAmps * supply.usable,
      allAmps: lamps.reduce((sum, lamp) => sum + lampAmps(lamp, supply), 0),
      allWatts: lamps.reduce((sum, { watts }) => sum + watts, 0),
      peak: most?.peakAmps.get(supply.id),
      mean: most?.meanAmps.get(supply.id),
    }
  })
}
