import type { Show } from '../../domain/show.ts'
import type { Song } from '../../domain/song.ts'
import { gravestFirst } from '../check/condense.ts'
import type { CheckFinding } from '../check/finding.ts'
import { GRAVITIES } from '../check/finding.ts'
import { songsReached } from '../songs-reached.ts'
import { takeFindings } from './take-findings.ts'
import type { CountedTake, TakeResult } from './take-result.ts'

/** A show gone through before a gig, song by song, by its takes. */
export interface GigCheck {
  /** Those that the night can come to, and whatever else was counted; worst first. */
  readonly songs: readonly CheckedSong[]
}

export interface CheckedSong {
  readonly song: Song
  readonly takes: readonly TakeResult[]
  /** Of its takes, worst first; what is said of it without a take stands in `checkShow`. */
  readonly findings: readonly CheckFinding[]
}

/**
 * Puts what was counted in order: songs with faults first, then those with warnings, then those of which nothing was counted, then the rest; among equals by
 * how often they flash and how long in the band of concern, then in the order of the night.
 */
export function gigCheck(show: Show, results: readonly TakeResult[]): GigCheck {
  const reached = songsReached(show)
  const others = show.songs.filter((song) => !reached.includes(song))
  const counted = others.filter(({ id }) => results.some((result) => result.song === id))
  const songs = [...reached, ...counted].map((song) => checked(show, song, results))
  return { songs: songs.sort((a, b) => compare(badness(a), badness(b))) }
}

/** Takes that were counted. */
export function countedTakes(takes: readonly TakeResult[]): CountedTake[] {
  return takes.filter((take): take is CountedTake => take.ok)
}

function checked(show: Show, song: Song, results: readonly TakeResult[]): CheckedSong {
  const takes = results.filter((result) => result.song === song.id)
  const findings =
    takes.length === 0
      ? [withoutTake(show, song)]
      : gravestFirst(takes.flatMap((take) => takeFindings(show, take)))
  return { song, takes, findings }
}

function withoutTake(show: Show, song: Song): CheckFinding {
  return {
    gravity: 'note',
    where: `song ${song.id}`,
    path: ['songs', show.songs.indexOf(song)],
    message:
      'it has no take, so nothing that it does was counted: how it flashes, what it draws and which notes stay dark is not known. Record it as a Standard MIDI File and name that under "takes".',
  }
}

/** Smaller is worse, number by number. */
function badness({ takes, findings }: CheckedSong): number[] {
  const graves = GRAVITIES.map((gravity) => findings.filter((one) => one.gravity === gravity).length)
  const [faults = 0, warnings = 0] = graves
  const rank = faults > 0 ? 0 : warnings > 0 ? 1 : takes.length === 0 ? 2 : 3
  const reports = countedTakes(takes).map(({ report }) => report)
  const most = (of: (report: CountedTake['report']) => number): number => Math.max(0, ...reports.map(of))
  return [
    rank,
    -most(({ flash }) => flash.perSecondMax),
    -most(({ flash }) => flash.bandSeconds),
    -faults,
    -warnings,
  ]
}

function compare(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((value, index) => value !== b[index])
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0)
}
