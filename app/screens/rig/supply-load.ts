import type { Rig, Supply } from '../../../src/domain/rig.ts'
import { lampAmps } from '../../../src/domain/rig.ts'

export interface SupplyLoad {
  readonly lamps: number
  /** All of them lit at once; amps. */
  readonly amps: number
  /** What may be drawn: the supply's amps times its usable share. */
  readonly limit: number
}

/** Watts over volts, summed (common practice, no source). */
export function supplyLoad(rig: Rig, supply: Supply): SupplyLoad {
  const lamps = rig.lamps.filter((lamp) => lamp.supply === supply.id)
  const amps = lamps.reduce((sum, lamp) => sum + lampAmps(lamp, supply), 0)
  return { lamps: lamps.length, amps, limit: supply.maxAmps * supply.usable }
}

/** Whether all lamps lit ask for more than may be drawn; a hair over for rounding is not. */
export function isOver({ amps, limit }: SupplyLoad): boolean {
  return amps > limit * (1 + 1e-9)
}

const GUARDED = {
  refuse: 'Lamps past it are refused while playing.',
  steal: 'Lamps past it light, and those lit longest go dark for them.',
  warn: 'It is only warned of while playing.',
} as const

export function loadText(load: SupplyLoad, supply: Supply, guard: 'refuse' | 'steal' | 'warn'): string {
  const { lamps, amps, limit } = load
  if (lamps === 0) return 'No lamp hangs on it.'
  const all = lamps === 1 ? 'Its lamp lit draws' : `All ${lamps} lamps lit draw`
  const may = `${short(limit)} A may be drawn (${short(supply.maxAmps)} A × ${short(supply.usable)})`
  if (!isOver(load)) return `${all} ${short(amps)} A; ${may}.`
  const guarded = GUARDED[guard]
  return `${all} ${short(amps)} A, ${short(amps - limit)} A too many: ${may}. ${guarded}`
}

function short(value: number): string {
  return String(Number(value.toFixed(2)))
}
