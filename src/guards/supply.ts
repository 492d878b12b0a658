import type { LampIndex } from '../domain/ids.ts'
import type { Supply, Lamp } from '../domain/rig.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Wish } from '../domain/wish.ts'

export interface SupplyGuardConfig {
  readonly supplies: readonly Supply[]
  readonly lamps: readonly Lamp[]
  /** `refuse`: a lamp over the limit stays dark. `warn`: it lights, and is counted. */
  readonly action: 'refuse' | 'warn'
}

/** What one moment asks for; each lamp at most once. */
export interface SupplyGuardIn {
  readonly kind: 'wishes'
  readonly wishes: readonly Wish[]
}

export type SupplyGuardOut =
  | { readonly kind: 'admitted'; readonly wishes: readonly Wish[] }
  | { readonly kind: 'refused'; readonly lamp: LampIndex; readonly supply: string }
  | { readonly kind: 'exceeded'; readonly lamp: LampIndex; readonly supply: string }

export interface SupplyGuardState {
  readonly config: SupplyGuardConfig
  /** Microwatts, whole, so that nothing adds up to a false refusal: the limit and what is lit, per supply; the lamps' own. */
  readonly limits: readonly number[]
  readonly drawn: readonly number[]
  readonly lamps: readonly { readonly supply: number; readonly draws: number }[]
  readonly lit: readonly boolean[]
}

const MICROWATTS = 1e6

/** Whether a lamp that is dark could light within its supply's limit, whatever the guard's action. */
export function hasRoom(state: SupplyGuardState, index: LampIndex): boolean {
  const lamp = state.lamps[index]
  return (
    lamp !== undefined && (state.drawn[lamp.supply] ?? 0) + lamp.draws <= (state.limits[lamp.supply] ?? 0)
  )
}

/**
 * Keeps the lamps lit at once within each supply: the sum of watts / volts may not exceed maxAmps x usable. Pulses of different lamps can coincide, so a
 * lit lamp counts as always on (common practice, no source). Within one moment dark lamps go first.
 */
export const supplyGuard: Stage<SupplyGuardConfig, SupplyGuardState, SupplyGuardIn, SupplyGuardOut> = {
  name: 'supply guard',
  start: (config) => ({
    config,
    limits: config.supplies.map(({ volts, maxAmps, usable }) =>
      Math.floor(volts * maxAmps * usable * MICROWATTS + 0.5),
    ),
    drawn: config.supplies.map(() => 0),
    lamps: config.lamps.map((lamp) => ({
      supply: config.supplies.findIndex(({ id }) => id === lamp.supply),
      draws: Math.round(lamp.watts * MICROWATTS),
    })),
    lit: config.lamps.map(() => false),
  }),
  step(state, { wishes }): Step<SupplyGuardState, SupplyGuardOut> {
    const drawn = state.drawn.slice()
    const lit = state.lit.slice()
    const admitted: Wish[] = []
    const out: SupplyGuardOut[] = []
    for (const wish of wishes) {
      if (wish.state.on) continue
      const lamp = state.lamps[wish.lamp]
      if (lamp && lit[wish.lamp]) drawn[lamp.supply] = (drawn[lamp.supply] ?? 0) - lamp.draws
      lit[wish.lamp] = false
      admitted.push(wish)
    }
    for (const wish of wishes) {
      const lamp = state.lamps[wish.lamp]
      if (!wish.state.on || !lamp) continue
      if (!lit[wish.lamp]) {
        const sum = (drawn[lamp.supply] ?? 0) + lamp.draws
        if (sum > (state.limits[lamp.supply] ?? 0)) {
          const supply = state.config.supplies[lamp.supply]?.id ?? ''
          if (state.config.action === 'refuse') {
            out.push({ kind: 'refused', lamp: wish.lamp, supply })
            continue
          }
          out.push({ kind: 'exceeded', lamp: wish.lamp, supply })
        }
        drawn[lamp.supply] = sum
        lit[wish.lamp] = true
      }
      admitted.push(wish)
    }
    return { state: { ...state, drawn, lit }, out: [{ kind: 'admitted', wishes: admitted }, ...out] }
  },
}
