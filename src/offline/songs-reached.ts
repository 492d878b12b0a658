import type { SongId } from '../domain/ids.ts'
import type { Show } from '../domain/show.ts'
import type { Song } from '../domain/song.ts'

/**
 * The songs that a night can come to, each once: those of the set list in its order, then those that a control goes to; each with the song that it is a
 * variant of and all its variants, the song first.
 */
export function songsReached(show: Show): readonly Song[] {
  const byId = new Map(show.songs.map((song) => [song.id, song]))
  const named = show.switching.controls.flatMap(({ do: act }): SongId[] =>
    typeof act === 'object' && 'song' in act ? [act.song] : [],
  )
  const families = [...show.setList, ...named].flatMap((id) => {
    const song = byId.get(id)
    return song ? songFamily(show, song) : []
  })
  return [...new Set(families)]
}

/** A song and its variants in the show's order, the song that they are variants of first: the round that `variant` goes. */
export function songFamily(show: Show, song: Song): readonly Song[] {
  const root = song.variantOf ?? song.id
  return [
    ...show.songs.filter(({ id }) => id === root),
    ...show.songs.filter(({ variantOf }) => variantOf === root),
  ]
}
