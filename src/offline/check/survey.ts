import type { FlashGuard } from '../../domain/flash-guard.ts'
import { flashGuardOf } from '../../domain/flash-guard.ts'
import type { Lamp, Output } from '../../domain/rig.ts'
import type { Show } from '../../domain/show.ts'
import type { Part, Song } from '../../domain/song.ts'
import type { KeyTuning } from '../../domain/tuning-spec.ts'
import type { Cents, Hz, Key } from '../../domain/units.ts'
import { knownTuning } from '../../tuning/tuning.ts'
import type { Fold } from '../../tuning/unseen.ts'
import { foldOf, noteFloor } from '../../tuning/unseen.ts'
import type { FindingPlace } from './finding.ts'
import type { KeyFigures } from './key-figures.ts'
import { keyFigures } from './key-figures.ts'
import type { PitchTable } from './pitch-table.ts'
import { createPitchTables } from './pitch-table.ts'
import { strategyReach } from './strategy-reach.ts'

/** One lamp as one part uses it. */
export interface SurveyedLamp {
  readonly lamp: Lamp
  readonly output: Output
  /** Cents that its strategy adds. */
  readonly detune: Cents
  readonly figures: KeyFigures
  /** The same, were there no flash guard that moves rates. */
  readonly unguarded: KeyFigures
  /** The lowest that a note may sound here: lowHz, or where the flash guard moves rates not under 60 Hz. */
  readonly noteFloor: Hz
}

export interface SurveyedPart {
  readonly song: Song
  readonly guard: FlashGuard
  readonly part: Part
  /** "song tide, part lead". */
  readonly place: FindingPlace
  /** The lamps its strategy can light. */
  readonly lamps: readonly SurveyedLamp[]
}

export interface SurveyedSong {
  readonly song: Song
  /** Its own, or the show's. */
  readonly guard: FlashGuard
  /** "song tide". */
  readonly place: FindingPlace
  readonly parts: readonly SurveyedPart[]
}

/** A show with every key of every part gone through on every lamp: what the checks look at. */
export interface Survey {
  readonly show: Show
  /** In the show's order. */
  readonly songs: readonly SurveyedSong[]
}

/** Parts and lamps that come to the same share their figures, so that a long show costs little more than a short one. */
export function surveyShow(show: Show): Survey {
  const lamps = new Map(show.rig.lamps.map((lamp) => [lamp.id, lamp]))
  const outputs = new Map(show.rig.outputs.map((output) => [output.id, output]))
  const tableFor = createPitchTables()
  const figuresOf = createFigures()

  function surveyPart(song: Song, part: Part, place: FindingPlace, tuning: KeyTuning): SurveyedPart {
    const [low, high] = part.notes
    const guard = flashGuardOf(show, song)
    const fold = foldOf(guard)
    const surveyed = strategyReach(part, song).flatMap((reach): SurveyedLamp[] => {
      const lamp = lamps.get(reach.lamp)
      const output = lamp && outputs.get(lamp.output)
      if (!lamp || !output) return []
      const figuresBy = (by: Fold | undefined): KeyFigures => {
        const table = tableFor(tuning, lamp, output, reach, by)
        if (reach.notes) return keyFigures(table, reach.notes, part.transpose)
        const only = reach.key === undefined ? undefined : reach.key - part.transpose
        return figuresOf(table, Math.max(low, only ?? low), Math.min(high, only ?? high), part.transpose)
      }
      const figures = figuresBy(fold)
      const unguarded = fold ? figuresBy(undefined) : figures
      const floor = noteFloor(lamp.lowHz, fold)
      return [{ lamp, output, detune: reach.cents, figures, unguarded, noteFloor: floor }]
    })
    return { song, part, guard, place, lamps: surveyed }
  }

  return {
    show,
    songs: show.songs.map((song, index) => {
      const parts = song.parts.flatMap((part, at) => {
        const tuning = knownTuning(show.tunings, part.tuning ?? song.tuning)
        return tuning ? [surveyPart(song, part, partPlace(song, index, part, at), tuning)] : []
      })
      return {
        song,
        guard: flashGuardOf(show, song),
        place: { where: `song ${song.id}`, path: ['songs', index] },
        parts,
      }
    }),
  }
}

/** "song tide, part lead", and the way to it. */
export function partPlace(song: Song, songIndex: number, part: Part, partIndex: number): FindingPlace {
  return { where: `song ${song.id}, part ${part.id}`, path: ['songs', songIndex, 'parts', partIndex] }
}

function createFigures(): (table: PitchTable, low: Key, high: Key, transpose: number) => KeyFigures {
  const known = new Map<PitchTable, Map<string, KeyFigures>>()
  return (table, low, high, transpose) => {
    const ofTable = known.get(table) ?? new Map<string, KeyFigures>()
    known.set(table, ofTable)
    const id = `${low} ${high} ${transpose}`
    const figures = ofTable.get(id) ?? keyFigures(table, keysBetween(low, high), transpose)
    ofTable.set(id, figures)
    return figures
  }
}

/** None where `low` is above `high`. */
function keysBetween(low: Key, high: Key): Key[] {
  return Array.from({ length: Math.max(0, high - low + 1) }, (_, index) => low + index)
}
