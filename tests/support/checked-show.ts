import { checkShow } from '../../src/offline/check-show.ts'
import type { CheckFinding } from '../../src/offline/check/finding.ts'
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

/** What every show in tune is told. */
export const FARTHEST = /^Farthest off of all pitches /

/** What is found in a show but for the caution and how far off it is at most, as "gravity, where: message". */
export function found(raw: RawShow): string[] {
  return findings(raw).map(({ gravity, where, message }) => `${gravity}, ${where}: ${message}`)
}

/** Where in the show the same is mended. */
export function foundPaths(raw: RawShow): unknown[] {
  return findings(raw).flatMap(({ path }) => (path === undefined ? [] : [path]))
}

function findings(raw: RawShow): readonly CheckFinding[] {
  return checkShow(validShow(raw)).filter(
    ({ where, message }) => where !== 'every show' && !FARTHEST.test(message),
  )
}
