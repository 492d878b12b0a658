import type { PartSteps } from '../../../src/contract/from-engine.ts'
import type { Pattern } from '../../../src/domain/pattern.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { firstPatternOf } from './pattern-parts.ts'

/** What is asked for by address, and what plays. */
export interface Asked {
  readonly song: string | undefined
  readonly pattern: string | undefined
  readonly playing: string | undefined
  readonly steps: ReadonlyMap<string, PartSteps>
}

/** The song that was asked for; else the one that plays, where it has a pattern; else the first that has one. */
export function chosenSong({ songs }: Show, { song, playing }: Asked): Song | undefined {
  const by = (id: string | undefined): Song | undefined => songs.find((one) => one.id === id)
  const now = by(playing)
  if (by(song)) return by(song)
  return now && now.patterns.length > 0
    ? now
    : (songs.find(({ patterns }) => patterns.length > 0) ?? now ?? songs[0])
}

/** The pattern that was asked for; else the one that is running; else the one a part begins with; else the song's first. */
export function chosenPattern(song: Song, asked: Asked): Pattern | undefined {
  const named = song.patterns.find(({ id }) => id === asked.pattern)
  if (named) return named
  const running = song.id === asked.playing ? [...asked.steps.values()][0]?.pattern : undefined
  const [first] = song.parts.flatMap((part) => firstPatternOf(song, part) ?? [])
  return song.patterns.find(({ id }) => id === running) ?? first ?? song.patterns[0]
}

/** Where a pattern's rows stand in the first part that plays it now; undefined: none does. */
export function positionOf(song: Song, pattern: Pattern, { playing, steps }: Asked): PartSteps | undefined {
  if (song.id !== playing) return undefined
  return [...steps.values()].find(
    (one) => one.pattern === pattern.id && one.rows.length === pattern.rows.length,
  )
}
