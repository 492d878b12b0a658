import type { LampId, PartId, SongId } from '../domain/ids.ts'
import type { Show } from '../domain/show.ts'
import type { Cents, Hz, Key } from '../domain/units.ts'
import { knownTuning } from '../tuning/tuning.ts'
import { askedHz, createPitchTables } from './check/pitch-table.ts'
import { strategyReach } from './check/strategy-reach.ts'

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
  const song = show.songs.find(({ id }) => id === songId)
  const part = song?.parts.find(({ id }) => id === partId)
  const tuning = knownTuning(show.tunings, part?.tuning ?? song?.tuning)
  if (!song || !part || !tuning) return undefined
  const tableFor = createPitchTables()
  const reaches = new Map(strategyReach(part, song).map((reach) => [reach.lamp, reach]))
  const [low, high] = part.notes
  const played = Array.from({ length: Math.max(0, high - low + 1) }, (_, index) => low + index)
  return part.lamps.map((id) => {
    const reach = reaches.get(id)
    const lamp = show.rig.lamps.find((one) => one.id === id)
    const output = show.rig.outputs.find((one) => one.id === lamp?.output)
    if (!reach || !lamp || !output) return { lamp: id, rows: [] }
    const table = tableFor(tuning, lamp, output, reach)
    const rows: KeyPitch[] = []
    for (const key of reach.notes ?? played) {
      const sounding = key + part.transpose
      if (reach.key !== undefined && reach.key !== sounding) continue
      const asked = askedHz(tuning, lamp, reach, sounding) ?? null
      const pitch = table.pitch(sounding)
      rows.push(typeof pitch === 'string' ? { key, asked, octaves: null } : { key, asked, ...pitch })
    }
    return { lamp: id, rows }
  })
}
