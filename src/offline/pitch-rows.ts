import type { LampId, PartId, SongId } from '../domain/ids.ts'
import type { Show } from '../domain/show.ts'
import type { Cents, Hz, Key } from '../domain/units.ts'
import { askedHz } from './check/pitch-table.ts'
import type { PartLamps } from './part-lamps.ts'
import { keysOf, partLamps } from './part-lamps.ts'

/** What one key of a part becomes on one lamp. */
export interface KeyPitch {
  /** As played, or as a step has it, before transposing. */
  readonly key: Key
  /** What the tuning, the strategy and the lamp's trim ask, before octaves; null: the tuning has no pitch for the key. */
  readonly asked: Hz | null
  /** Octaves moved to fit the lamp; null: refused, and the rest is absent. */
  readonly octaves: number | null
  readonly hz?: Hz
  readonly realHz?: Hz
  readonly cents?: Cents
}

export interface LampPitches {
  readonly lamp: LampId
  /** By key; none where the strategy never lights the lamp. */
  readonly rows: readonly KeyPitch[]
}

/**
 * What each key that a part takes becomes on each of its lamps, without bends: the same steps as when it is played. Undefined where the show has no such song
 * or part.
 */
export function pitchRows(show: Show, songId: SongId, partId: PartId): LampPitches[] | undefined {
  const found = partLamps(show, songId, partId)
  return found && rowsOf(found)
}

/** The same of a part that is found already. */
export function rowsOf(found: PartLamps): LampPitches[] {
  const { part, tuning } = found
  return found.lamps.map(({ id, lit }) => {
    if (!lit) return { lamp: id, rows: [] }
    const rows = keysOf(part, lit.reach).map((key): KeyPitch => {
      const sounding = key + part.transpose
      const asked = askedHz(tuning, lit.lamp, lit.reach, sounding) ?? null
      const pitch = lit.table.pitch(sounding)
      return typeof pitch === 'string' ? { key, asked, octaves: null } : { key, asked, ...pitch }
    })
    return { lamp: id, rows }
  })
}
