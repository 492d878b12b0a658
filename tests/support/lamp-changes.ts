import type { LampChange, Lit } from '../../src/domain/lamp-state.ts'
import type { Rig } from '../../src/domain/rig.ts'
import type { Duty, Hz, Watts } from '../../src/domain/units.ts'

export const PLANTS = ['fern', 'moss', 'reed', 'sedge', 'ivy', 'palm', 'lotus', 'vine'] as const

/** Lamps named after plants on one 12 V supply, `bench`, one for each wattage given. */
export function plantRig(...watts: readonly Watts[]): Rig {
  return {
    supplies: [{ id: 'bench', volts: 12, maxAmps: 20, usable: 0.8 }],
    outputs: [],
    lamps: watts.map((each, slot) => {
      const id = PLANTS[slot]!
      const name = id[0]!.toUpperCase() + id.slice(1)
      const limits = { lowHz: 1, highHz: 8000, minDuty: 0.02, maxDuty: 0.98, trimCents: 0, delayMs: 0 }
      return { id, name, output: 'wire', slot, supply: 'bench', watts: each, x: slot, y: 0, ...limits }
    }),
  }
}

/** A lamp lit at exactly `hz`; anything else as given. */
export function lit(index: number, hz: Hz, duty: Duty = 0.5, more: Partial<Lit> = {}): LampChange {
  const drive = { kind: 'timer', rate: Math.round(hz * 65536), prescaler: 1, top: 36363 } as const
  const voice = { part: 'lead', player: 'keys', note: 1, key: 69, velocity: 100 } as const
  const state = { on: true, ...voice, hz, realHz: hz, cents: 0, duty, drive, strike: true, ...more } as const
  return { lamp: PLANTS[index]!, index, state }
}

export function dark(index: number): LampChange {
  return { lamp: PLANTS[index]!, index, state: { on: false } }
}
