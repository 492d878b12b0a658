import type { Show } from '../../../src/domain/show.ts'
import type { Part, Song } from '../../../src/domain/song.ts'

export interface ChosenPart {
  readonly song: Song
  /** Absent: the song has none. */
  readonly part?: Part
  /** What was asked for and is not there, in words. */
  readonly missing?: string
}

/** The song and part that the address names; left out: the playing song, its first part. Undefined: a show without songs. */
export function chosenPart(
  show: Show,
  playing: string | undefined,
  [songId, partId]: readonly string[],
): ChosenPart | undefined {
  const named = show.songs.find(({ id }) => id === songId)
  const song = named ?? show.songs.find(({ id }) => id === (playing ?? show.setList[0])) ?? show.songs[0]
  if (!song) return undefined
  const wanted = named ? partId : undefined
  const found = song.parts.find(({ id }) => id === wanted)
  const part = found ?? song.parts[0]
  const missing =
    songId !== undefined && songId !== '' && !named
      ? `There is no song "${songId}" in this show.`
      : wanted !== undefined && wanted !== '' && !found
        ? `There is no part "${wanted}" in ${song.title}.`
        : undefined
  return { song, ...(part ? { part } : {}), ...(missing === undefined ? {} : { missing }) }
}
