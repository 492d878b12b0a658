import { flashGuardOf, flashGuardWords } from '../../domain/flash-guard.ts'
import type { Show } from '../../domain/show.ts'
import type { Song } from '../../domain/song.ts'

/** "The flash guard warns: ...": what it does in songs that have none of their own. */
export function showGuardWords({ guards }: Pick<Show, 'guards'>): string {
  return `The flash guard ${flashGuardWords(guards.flash)}.`
}

/** The songs whose flash guard is another than the show's, and what it does there. */
export function guardsApart(show: Pick<Show, 'guards'>, songs: readonly Song[]): readonly GuardApart[] {
  const usual = flashGuardWords(show.guards.flash)
  return songs.flatMap((song) => {
    const words = flashGuardWords(flashGuardOf(show, song))
    return words === usual ? [] : [{ song, words }]
  })
}

export interface GuardApart {
  readonly song: Song
  readonly words: string
}
