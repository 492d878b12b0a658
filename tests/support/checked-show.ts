import { checkShow } from '../../src/offline/check-show.ts'
import type { Json, RawShow } from './shows.ts'
import { glasshouse, GLASSHOUSE_LAMPS } from './shows.ts'
import { validShow } from './valid-show.ts'

/** The glasshouse with a part that plays C2 to C8 only, which every lamp can sound where it is, steady to the eye. */
export function quietHouse(overrides: RawShow = {}): RawShow {
  return glasshouse({ songs: [tide([lead()])], ...overrides })
}

export function tide(parts: Json[], more: RawShow = {}): RawShow {
  return { id: 'tide', title: 'Tide table', parts, ...more }
}

export function lead(more: RawShow = {}): RawShow {
  return {
    id: 'lead',
    player: 'keys',
    lamps: [...GLASSHOUSE_LAMPS],
    strategy: { kind: 'lowest-free' },
    notes: [36, 108],
    ...more,
  }
}

/** A rig of the glasshouse's lamps, each, its outputs and its supply changed. */
export function rig(lamp: RawShow = {}, outputs?: Json[], supply: RawShow = {}): RawShow {
  return {
    supplies: [{ id: 'bench', volts: 12, maxAmps: 5, ...supply }],
    outputs: outputs ?? [{ id: 'wire', kind: 'serial', port: 'virtual' }],
    lamps: GLASSHOUSE_LAMPS.map((id, slot) => ({
      id,
      output: 'wire',
      slot,
      supply: 'bench',
      watts: 10,
      ...lamp,
    })),
  }
}

/** What is found in a show but for the caution, as "gravity, where: message". */
export function found(raw: RawShow): string[] {
  return checkShow(validShow(raw))
    .filter(({ where }) => where !== 'every show')
    .map(({ gravity, where, message }) => `${gravity}, ${where}: ${message}`)
}
