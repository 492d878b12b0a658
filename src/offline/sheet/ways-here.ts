import type { PlayerId, SongId } from '../../domain/ids.ts'
import type { Show } from '../../domain/show.ts'
import type { Song } from '../../domain/song.ts'
import type { Control } from '../../domain/switching.ts'
import { songFamily } from '../songs-reached.ts'

/** One thing that a player does to come to a song. */
export interface WayHere {
  readonly control: Control
  /** The number to choose, where the control takes any program. */
  readonly program?: number | undefined
  /** The song it has to be done in; absent: in any. */
  readonly from?: SongId | undefined
}

/** How `player` comes to `song` by controls, in the order of the controls. */
export function waysHere(show: Show, song: Song, player: PlayerId): readonly WayHere[] {
  return show.switching.controls
    .filter((control) => control.player === player)
    .flatMap((control) => waysBy(show, song, control))
}

function waysBy(show: Show, song: Song, control: Control): WayHere[] {
  const act = control.do
  switch (act) {
    case 'next':
      return neighbours(show, song, -1).map((from) => ({ control, from }))
    case 'previous':
      return neighbours(show, song, 1).map((from) => ({ control, from }))
    case 'number':
      // A program's number is a place from 0, and there are 128 of them.
      return show.setList.flatMap((id, program) =>
        id === song.id && program < 128 ? [{ control, program }] : [],
      )
    case 'variant': {
      const family = songFamily(show, song)
      const before = family.at(family.indexOf(song) - 1)
      return before === undefined || before === song ? [] : [{ control, from: before.id }]
    }
    case 'dark':
    case 'tap':
      return []
    default:
      if ('tuning' in act) return []
      return ('song' in act ? act.song : show.setList[act.place - 1]) === song.id ? [{ control }] : []
  }
}

/** The songs that stand beside `song` where skipped ones are passed over: `step` -1 before it, 1 after it. */
function neighbours(show: Show, song: Song, step: number): SongId[] {
  const skipped = new Set(show.songs.filter(({ skip }) => skip).map(({ id }) => id))
  const places = show.setList.filter((id) => !skipped.has(id))
  const beside = places.flatMap((id, place) => (id === song.id ? (places[place + step] ?? []) : []))
  return [...new Set(beside)]
}
