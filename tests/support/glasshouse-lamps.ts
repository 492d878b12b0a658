import type { Lamp, Supply } from '../../src/domain/rig.ts'

const PLANTS = ['fern', 'moss', 'reed', 'sedge', 'ivy', 'palm']

export const BENCH: Supply = { id: 'bench', volts: 12, maxAmps: 2.5, usable: 0.8 }

/** Lamps named after plants, slots 0, 1, 2..., all alike unless said otherwise. */
export function plantLamp(index: number, more: Partial<Lamp> = {}): Lamp {
  const id = PLANTS[index] ?? `plant-${index}`
  return {
    id,
    name: id,
    output: 'wire',
    slot: index,
    supply: 'bench',
    watts: 10,
    x: index,
    y: 0,
    lowHz: 20,
    highHz: 4200,
    minDuty: 0.02,
    maxDuty: 0.5,
    trimCents: 0,
    delayMs: 0,
    ...more,
  }
}
