import type { SongId } from './ids.ts'
import type { Song } from './song.ts'

type Member = Pick<Song, 'id' | 'variantOf'>

/** The song that a song is a variant of, or itself. */
export function rootOf({ id, variantOf }: Member): SongId {
  return variantOf ?? id
}

/** A song and its variants in the show's order, the song that they are variants of first: the round that `variant` goes. */
export function songFamily<Any extends Member>(songs: readonly Any[], song: Member): readonly Any[] {
  const root = rootOf(song)
  return [...songs.filter(({ id }) => id === root), ...songs.filter(({ variantOf }) => variantOf === root)]
}
