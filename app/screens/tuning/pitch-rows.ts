import type { PitchRow } from '../../../src/contract/from-host.ts'
import type { Cents } from '../../../src/domain/units.ts'

/** From here a pitch that is off is heard, about (common practice, no source). */
export const HEARD_CENTS: Cents = 5

export interface LampRows {
  readonly lamp: string
  readonly rows: readonly PitchRow[]
}

/** Lamps that are off by the same on every key: they hang on one output and fold alike. */
export interface Series {
  readonly lamps: readonly string[]
  readonly rows: readonly PitchRow[]
}

/** A row, and whose it is. */
export interface OwnedRow {
  readonly lamp: string
  readonly row: PitchRow
}

export interface WorstRow extends OwnedRow {
  /** Other lamps that cannot sound the key; where none can, `row` is refused itself. */
  readonly refusedBy: readonly string[]
}

export interface Tally {
  /** The row farthest off; absent where every key is refused. */
  readonly worst?: OwnedRow
  /** Keys on lamps: how many there are that have a pitch, how many are farther off than is heard. */
  readonly pitches: number
  readonly heard: number
  /** Lamps that refuse keys, with how many. */
  readonly refused: readonly { readonly lamp: string; readonly keys: number }[]
  /** Keys that the tuning has no pitch for. */
  readonly unmapped: number
}

/** Without the lamps that the part's strategy never lights: they have no rows. */
export function litLamps(lamps: readonly LampRows[]): readonly LampRows[] {
  return lamps.filter(({ rows }) => rows.length > 0)
}

export function seriesOf(lamps: readonly LampRows[]): Series[] {
  const alike = new Map<string, { lamps: string[]; rows: readonly PitchRow[] }>()
  for (const { lamp, rows } of litLamps(lamps)) {
    const figure = rows.map(({ key, cents }) => `${key} ${cents ?? 'refused'}`).join()
    const known = alike.get(figure)
    if (known) known.lamps.push(lamp)
    else alike.set(figure, { lamps: [lamp], rows })
  }
  return [...alike.values()]
}

/** For each key that any lamp has, in rising order, the lamp that is farthest off there. */
export function worstRows(lamps: readonly LampRows[]): WorstRow[] {
  const byKey = new Map<number, OwnedRow[]>()
  for (const { lamp, rows } of lamps) {
    for (const row of rows) byKey.set(row.key, [...(byKey.get(row.key) ?? []), { lamp, row }])
  }
  return [...byKey.entries()]
    .sort(([a], [b]) => a - b)
    .flatMap(([, owned]) => {
      const worst = farthest(owned) ?? owned[0]
      if (!worst) return []
      const refusing = owned.filter(({ row, lamp }) => row.cents === undefined && lamp !== worst.lamp)
      return [{ ...worst, refusedBy: refusing.map(({ lamp }) => lamp) }]
    })
}

export function tallyOf(lamps: readonly LampRows[]): Tally {
  const owned = lamps.flatMap(({ lamp, rows }) => rows.map((row) => ({ lamp, row })))
  const worst = farthest(owned)
  return {
    ...(worst ? { worst } : {}),
    pitches: owned.filter(({ row }) => row.asked !== null).length,
    heard: owned.filter(({ row }) => Math.abs(row.cents ?? 0) > HEARD_CENTS).length,
    refused: lamps.flatMap(({ lamp, rows }) => {
      const keys = rows.filter(({ cents, asked }) => cents === undefined && asked !== null).length
      return keys === 0 ? [] : [{ lamp, keys }]
    }),
    unmapped: new Set(owned.flatMap(({ row }) => (row.asked === null ? [row.key] : []))).size,
  }
}

function farthest(owned: readonly OwnedRow[]): OwnedRow | undefined {
  return owned.reduce<OwnedRow | undefined>((most, one) => {
    if (one.row.cents === undefined) return most
    return most === undefined || Math.abs(one.row.cents) > Math.abs(most.row.cents ?? 0) ? one : most
  }, undefined)
}
