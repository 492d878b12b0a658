import { flashGuardOf } from '../domain/flash-guard.ts'
import type { LampId, PartId, SongId } from '../domain/ids.ts'
import type { Lamp } from '../domain/rig.ts'
import type { Show } from '../domain/show.ts'
import type { Part, Song } from '../domain/song.ts'
import type { KeyTuning } from '../domain/tuning-spec.ts'
import type { Key } from '../domain/units.ts'
import { knownTuning } from '../tuning/tuning.ts'
import { foldOf } from '../tuning/unseen.ts'
import type { PitchTable, PitchTables } from './check/pitch-table.ts'
import { createPitchTables } from './check/pitch-table.ts'
import type { Reach } from './check/strategy-reach.ts'
import { strategyReach } from './check/strategy-reach.ts'

/** A lamp that a part's strategy can light. */
export interface PartLamp {
  readonly lamp: Lamp
  readonly reach: Reach
  readonly table: PitchTable
}

export interface PartLamps {
  readonly song: Song
  readonly part: Part
  /** As it is known beforehand: a received tuning's base. */
  readonly tuning: KeyTuning
  /** In the part's order; undefined: its strategy never lights it. */
  readonly lamps: readonly { readonly id: LampId; readonly lit: PartLamp | undefined }[]
}

/** A part, its tuning and what its strategy asks of its lamps. Who asks about many parts gives the tables that they share. Undefined where the show has no such song or part. */
export function partLamps(
  show: Show,
  songId: SongId,
  partId: PartId,
  tableFor: PitchTables = createPitchTables(),
): PartLamps | undefined {
  const song = show.songs.find(({ id }) => id === songId)
  const part = song?.parts.find(({ id }) => id === partId)
  const tuning = knownTuning(show.tunings, part?.tuning ?? song?.tuning)
  if (!song || !part || !tuning) return undefined
  const reaches = new Map(strategyReach(part, song).map((reach) => [reach.lamp, reach]))
  const fold = foldOf(flashGuardOf(show, song))
  const lamps = part.lamps.map((id) => {
    const reach = reaches.get(id)
    const lamp = show.rig.lamps.find((one) => one.id === id)
    const output = show.rig.outputs.find((one) => one.id === lamp?.output)
    if (!reach || !lamp || !output) return { id, lit: undefined }
    return { id, lit: { lamp, reach, table: tableFor(tuning, lamp, output, reach, fold) } }
  })
  return { song, part, tuning, lamps }
}

/** The keys of a part that its strategy lights the lamp with, as played or as steps have them, before transposing; rising. */
export function keysOf({ notes: [low, high], transpose }: Part, { key, notes }: Reach): readonly Key[] {
  if (notes) return notes
  const played = Array.from({ length: Math.max(0, high - low + 1) }, (_, index) => low + index)
  return key === undefined ? played : played.filter((one) => one + transpose === key)
}
