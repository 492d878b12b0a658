import type { PlayerId, SongId } from '../../domain/ids.ts'
import type { Report } from '../report.ts'

/** What became of one take of a song. */
export type TakeResult = CountedTake | FailedTake

/** It was played through, and counted. */
export interface CountedTake {
  readonly ok: true
  readonly song: SongId
  /** As the show names it: a path from its folder. */
  readonly take: string
  /** What `render` writes as report.json for that song and take. */
  readonly report: Report
  /** Among the report's `unplaced`: bounces, crosstalk, ghosts. */
  readonly dropped: number
  /** What of the file could not be read, and what was done instead. */
  readonly torn: readonly string[]
  /** Players that play in it and have no part in the song, with their notes. */
  readonly strangers: readonly { readonly player: PlayerId; readonly notes: number }[]
}

/** It could not be read or played. */
export interface FailedTake {
  readonly ok: false
  readonly song: SongId
  readonly take: string
  /** What, where, what to do. */
  readonly why: string
}
