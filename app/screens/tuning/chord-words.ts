import type { Coincidence } from '../../../src/domain/interval.ts'
import type { Hz } from '../../../src/domain/units.ts'
import { noteName } from '../wording/note-name.ts'
import type { ChordNote, ChordPair } from './chord.ts'
import { isSounded } from './chord.ts'

/** `3:2` */
export function ratioWords({ low, high }: Pick<Coincidence, 'low' | 'high'>): string {
  return `${low}:${high}`
}

/** How often partials beat: `none` below a beat in three hours, else to three figures. */
export function beatsWords(hz: Hz): string {
  if (hz < 1e-4) return 'none'
  return `${Number(hz.toPrecision(3))} Hz`
}

/** `3rd of C4 with 2nd of G4: 0.886 Hz` */
export function meetsWords({ low, high }: ChordPair, one: Coincidence): string {
  // The lower key is not always the lower pitch: lamps fold.
  const [under, over] = isInOrder(low, high) ? [low, high] : [high, low]
  return `${nth(one.low)} of ${noteName(under.key)} with ${nth(one.high)} of ${noteName(over.key)}: ${beatsWords(one.beats)}`
}

function isInOrder(low: ChordNote, high: ChordNote): boolean {
  return !isSounded(low.row) || !isSounded(high.row) || low.row.realHz <= high.row.realHz
}

function nth(n: number): string {
  return `${n}${['th', 'st', 'nd', 'rd'][n] ?? 'th'}`
}

/** Why a key of the chord is not in the table. */
export function silentWords({ key, row, lamps }: ChordNote): string | undefined {
  if (isSounded(row)) return undefined
  const name = noteName(key)
  if (lamps.length === 0) return `${name} (${key}) is none of the part\u2019s keys.`
  if (row?.asked === null) return `${name} (${key}) has no pitch in this tuning: it is not mapped.`
  return `${name} (${key}) is refused by every lamp of the part.`
}
