import type { Key } from '../../domain/units.ts'
import type { PitchTable } from './pitch-table.ts'
import { TRAITS } from './pitch-table.ts'

/** What a lamp does with the keys that a part gives it. Lists of keys as played, before transposing, rising. */
export interface KeyFigures {
  readonly table: PitchTable
  readonly transpose: number
  /** How many keys there are. */
  readonly keys: number
  /** The tuning has no pitch for them. */
  readonly noKey: readonly Key[]
  /** No octave within the lamp's range; no such rate on the output. */
  readonly noOctave: readonly Key[]
  readonly noRate: readonly Key[]
  /** Moved up or down by octaves into the lamp's range. */
  readonly up: readonly Key[]
  readonly down: readonly Key[]
  /** Flashing slowly enough to be seen. */
  readonly slow: readonly Key[]
  /** Farther off than is heard. */
  readonly off: readonly Key[]
  /** The key that comes out farthest off, however little that is; undefined where none sounds. */
  readonly farthest: Key | undefined
}

const NONE: readonly Key[] = []

/** Goes through keys as played, rising. */
export function keyFigures(table: PitchTable, keys: readonly Key[], transpose: number): KeyFigures {
  const special: Key[] = []
  let all = 0
  let farthest: Key | undefined
  let most = -1
  for (const key of keys) {
    const traits = table.traits(key + transpose)
    const off = table.off(key + transpose)
    if (off > most) [farthest, most] = [key, off]
    if (traits === 0) continue
    special.push(key)
    all |= traits
  }
  // Most lamps have few kinds of special keys, and a long show has many lamps.
  const having = (trait: number) =>
    (all & trait) === 0 ? NONE : special.filter((key) => (table.traits(key + transpose) & trait) !== 0)
  return {
    table,
    transpose,
    keys: keys.length,
    noKey: having(TRAITS.noKey),
    noOctave: having(TRAITS.noOctave),
    noRate: having(TRAITS.noRate),
    up: having(TRAITS.up),
    down: having(TRAITS.down),
    slow: having(TRAITS.slow),
    off: having(TRAITS.off),
    farthest,
  }
}

/** How many of the keys light the lamp. */
export function soundedKeys(figures: KeyFigures): number {
  return figures.keys - figures.noKey.length - figures.noOctave.length - figures.noRate.length
}
