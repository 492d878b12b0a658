import type { PitchRow } from '../../../src/contract/from-host.ts'
import type { Coincidence } from '../../../src/domain/interval.ts'
import { beating, coincidences } from '../../../src/domain/interval.ts'
import { centsBetween } from '../../../src/domain/pitch.ts'
import type { Cents, Hz, Key } from '../../../src/domain/units.ts'
import { keyOf } from '../sheet/key-of.ts'
import type { LampRows } from './pitch-rows.ts'
import { litLamps } from './pitch-rows.ts'

export const MOST_KEYS = 8

/** A row of a key that a lamp can sound. */
export type SoundedRow = PitchRow & { readonly hz: Hz; readonly realHz: Hz }

/** A key of a chord, on the lamp it is looked at on. */
export interface ChordNote {
  readonly key: Key
  /** Lamps that have the key, in the part's order; empty: it is not one of the part's keys. */
  readonly lamps: readonly string[]
  /** One of them; empty: none. */
  readonly lamp: string
  /** Absent: no lamp of the part has the key. */
  readonly row?: PitchRow
}

/** Two keys of a chord, the lower one first. */
export interface ChordPair {
  readonly low: ChordNote
  readonly high: ChordNote
  /** The interval between what is asked of the two lamps, and the one between what they make. */
  readonly wanted: Cents
  readonly made: Cents
  /** Of what is made: the simplest ratio it is near, and others. */
  readonly meets: readonly Coincidence[]
}

/** Lamps that one key lights together, or may: how far apart they are. */
export interface Agreement {
  readonly key: Key
  readonly lowest: { readonly lamp: string; readonly hz: Hz }
  readonly highest: { readonly lamp: string; readonly hz: Hz }
  /** Of those two, as they are made and as they are wanted: trims and detuning are meant. */
  readonly beats: Hz
  readonly wantedBeats: Hz
}

/** Lamps farther apart than this on one key sound another note: partials, an octave. */
const ONE_NOTE: Cents = 100

/** Keys as they are typed, by name or number, blanks or commas between them; each once, rising. Or what is wrong. */
export function readKeys(text: string): readonly Key[] | { readonly fault: string } {
  const words = text.split(/[\s,;]+/).filter((word) => word !== '')
  const wrong = words.find((word) => keyOf(word) === undefined)
  if (wrong !== undefined) return { fault: `found ${wrong}; expected keys such as C4 E4 G4, or 60 64 67` }
  const keys = [...new Set(words.map((word) => keyOf(word) ?? 0))].toSorted((a, b) => a - b)
  if (keys.length > MOST_KEYS) return { fault: `found ${keys.length} keys; expected ${MOST_KEYS} at most` }
  return keys
}

/** Each key on the lamp chosen for it, else each on another lamp, as far as there are enough. */
export function chordNotes(
  keys: readonly Key[],
  lamps: readonly LampRows[],
  chosen: ReadonlyMap<Key, string>,
): ChordNote[] {
  const taken = new Set<string>()
  return keys.map((key) => {
    const having = litLamps(lamps).flatMap(({ lamp, rows }) => {
      const row = rows.find((one) => one.key === key)
      return row ? [{ lamp, row }] : []
    })
    const wanted = chosen.get(key)
    const found =
      having.find(({ lamp }) => lamp === wanted) ??
      having.find(({ lamp, row }) => !taken.has(lamp) && isSounded(row)) ??
      having.find(({ row }) => isSounded(row)) ??
      having[0]
    if (found) taken.add(found.lamp)
    const names = having.map(({ lamp }) => lamp)
    return found ? { key, lamps: names, lamp: found.lamp, row: found.row } : { key, lamps: names, lamp: '' }
  })
}

/** Every two keys that both sound. */
export function chordPairs(notes: readonly ChordNote[]): ChordPair[] {
  return notes.flatMap((low, at) =>
    notes.slice(at + 1).flatMap((high) => {
      if (!isSounded(low.row) || !isSounded(high.row)) return []
      return [
        {
          low,
          high,
          wanted: centsBetween(high.row.hz, low.row.hz),
          made: centsBetween(high.row.realHz, low.row.realHz),
          meets: coincidences(low.row.realHz, high.row.realHz),
        },
      ]
    }),
  )
}

/** How far lamps are apart that sound one note for one key, by key; keys that fewer than two lamps sound are left out. */
export function agreements(keys: readonly Key[], lamps: readonly LampRows[]): Agreement[] {
  return keys.flatMap((key) => {
    const sounding = litLamps(lamps).flatMap(({ lamp, rows }) => {
      const row = rows.find((one) => one.key === key)
      return isSounded(row) ? [{ lamp, row }] : []
    })
    const [first] = sounding
    if (!first) return []
    const together = sounding
      .filter(({ row }) => Math.abs(centsBetween(row.hz, first.row.hz)) < ONE_NOTE)
      .toSorted((a, b) => a.row.realHz - b.row.realHz)
    const [lowest, highest] = [together[0], together.at(-1)]
    if (!lowest || !highest || together.length < 2) return []
    return [
      {
        key,
        lowest: { lamp: lowest.lamp, hz: lowest.row.realHz },
        highest: { lamp: highest.lamp, hz: highest.row.realHz },
        beats: beating(lowest.row.realHz, highest.row.realHz),
        wantedBeats: beating(lowest.row.hz, highest.row.hz),
      },
    ]
  })
}

export function isSounded(row: PitchRow | undefined): row is SoundedRow {
  return row?.hz !== undefined && row.realHz !== undefined
}
