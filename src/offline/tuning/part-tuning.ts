import type { LampId, PartId, SongId, TuningId } from '../../domain/ids.ts'
import type { Show } from '../../domain/show.ts'
import type { Part, Song } from '../../domain/song.ts'
import type { TuningSpec } from '../../domain/tuning-spec.ts'
import type { Cents, Hz, Key } from '../../domain/units.ts'
import { pulseHz } from '../../tuning/pulse.ts'
import { soundsPitch } from '../check/sounds-pitch.ts'
import type { Chord, PitchMotion } from '../chord.ts'
import { chordOf, motionsOf } from '../chord.ts'
import { createPitchTables } from '../check/pitch-table.ts'
import type { PartLamps } from '../part-lamps.ts'
import { partLamps } from '../part-lamps.ts'
import type { KeyPitch } from '../pitch-rows.ts'
import { rowsOf } from '../pitch-rows.ts'

/** What is asked about; all of it where left out. */
export interface TuningAsk {
  readonly song?: SongId | undefined
  readonly part?: PartId | undefined
  readonly lamp?: LampId | undefined
  /** Keys played together. */
  readonly chord?: readonly Key[] | undefined
}

/** Lamps of a part that come to the same, key by key. */
export interface LampGroup {
  readonly lamps: readonly LampId[]
  readonly rows: readonly KeyPitch[]
}

/** How one part is in tune. */
export interface PartTuning {
  readonly song: Song
  readonly part: Part
  readonly tuning: TuningSpec
  /** What the figures are of in place of a received tuning. */
  readonly base?: TuningId | undefined
  /** Figures are of where pitches rest. */
  readonly motions: readonly PitchMotion[]
  /** Flashes a second of a pulse without a controller, which never comes to the pitches. */
  readonly pulseHz?: Hz | undefined
  readonly groups: readonly LampGroup[]
  /** Lamps that its strategy never lights. */
  readonly never: readonly LampId[]
  readonly chord?: Chord | undefined
}

/** Every part that is asked about, in the show's order. */
export function partTunings(show: Show, ask: TuningAsk): PartTuning[] {
  const tableFor = createPitchTables()
  return show.songs.flatMap((song) => {
    if ((ask.song ?? song.id) !== song.id) return []
    return song.parts.flatMap((part) => {
      if (ask.part !== undefined && ask.part !== part.id) return []
      if (ask.lamp !== undefined && !part.lamps.includes(ask.lamp)) return []
      const known = partLamps(show, song.id, part.id, tableFor)
      const tuning = show.tunings.find(({ id }) => id === (part.tuning ?? song.tuning))
      return known && tuning ? [partTuning(known, tuning, ask)] : []
    })
  })
}

function partTuning(known: PartLamps, tuning: TuningSpec, ask: TuningAsk): PartTuning {
  const { song, part } = known
  const rows = rowsOf(known)
  const asked = rows.filter(({ lamp }) => ask.lamp === undefined || ask.lamp === lamp)
  const lit = new Set(known.lamps.flatMap(({ id, lit: one }) => (one ? [id] : [])))
  const keys = ask.chord
  return {
    song,
    part,
    tuning,
    ...(known.tuning.id === tuning.id ? {} : { base: known.tuning.id }),
    motions: motionsOf(song, part),
    ...(part.pulse && !soundsPitch(part) ? { pulseHz: pulseHz(part.pulse, song.tempo) } : {}),
    groups: grouped(asked.filter(({ lamp }) => lit.has(lamp))),
    never: asked.flatMap(({ lamp }) => (lit.has(lamp) ? [] : [lamp])),
    ...(keys && {
      chord: chordOf(known, keys, ask.lamp === undefined ? undefined : [ask.lamp]),
    }),
  }
}

function grouped(all: readonly { readonly lamp: LampId; readonly rows: readonly KeyPitch[] }[]): LampGroup[] {
  const groups = new Map<string, LampGroup>()
  for (const { lamp, rows } of all) {
    const id = JSON.stringify(rows)
    const known = groups.get(id)
    groups.set(id, { lamps: [...(known?.lamps ?? []), lamp], rows })
  }
  return [...groups.values()]
}

/** A pitch that comes out farther off than others. */
export interface Farthest {
  readonly song: SongId
  readonly part: PartId
  readonly lamps: readonly LampId[]
  readonly key: Key
  readonly hz: Hz
  readonly realHz: Hz
  readonly cents: Cents
}

/** Of all that parts sound, the pitch that is farthest off; the first of equals. Undefined where nothing sounds. */
export function farthestOf(parts: readonly PartTuning[]): Farthest | undefined {
  let worst: Farthest | undefined
  for (const { song, part, groups, chord: tones } of parts) {
    if (!soundsPitch(part)) continue
    const rows = tones
      ? tones.tones
      : groups.flatMap(({ lamps, rows: own }) => own.map((row) => ({ lamps, ...row })))
    for (const { lamps, key, hz, realHz, cents } of rows) {
      if (hz === undefined || realHz === undefined || cents === undefined) continue
      if (worst && Math.abs(cents) <= Math.abs(worst.cents)) continue
      worst = { song: song.id, part: part.id, lamps, key, hz, realHz, cents }
    }
  }
  return worst
}
