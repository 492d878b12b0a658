import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { Edit, MakeEdit } from './edit.ts'
import { insert, remove, set } from './edit.ts'
import { moved } from './list-order.ts'
import { newId } from './new-id.ts'

export function setSongField(id: string, field: keyof Song & string, value: unknown): MakeEdit {
  return onSong(id, (song, place) => ({
    label: `${field} of ${song.title}`,
    changes: [set(['songs', place, field], value)],
  }))
}

/** A song without parts, last of the show and of the set list. */
export function addSong(title: string): MakeEdit {
  return (show) => withNew(show, { id: nextSongId(show, title), title, parts: [] }, show.songs.length)
}

/** The id that a song of this title gets. */
export function nextSongId(show: Show, title: string): string {
  return newId(
    title,
    show.songs.map(({ id }) => id),
  )
}

/** Its copy, after it in the show and last of the set list. */
export function duplicateSong(id: string): MakeEdit {
  return (show) => {
    const place = show.songs.findIndex((song) => song.id === id)
    const song = show.songs[place]
    if (!song) return undefined
    const title = copyTitle(song.title)
    return withNew(show, { ...song, id: nextSongId(show, title), title }, place + 1)
  }
}

export function copyTitle(title: string): string {
  return `${title.slice(0, 190)}, copy`
}

/** Out of the show, and wherever it stands in the set list; a show keeps its last song. */
export function removeSong(id: string): MakeEdit {
  return onSong(id, (song, place, show) => {
    const rest = show.songs.filter((one) => one !== song)
    if (rest.length === 0) return undefined
    const list = show.setList.filter((one) => one !== id)
    return {
      label: `Song ${song.title} removed`,
      // The list first: it must never name a song that is gone.
      changes: [
        set(['setList'], list.length > 0 ? list : rest.map((one) => one.id)),
        remove(['songs', place]),
      ],
    }
  })
}

export function moveInSetList(place: number, by: number): MakeEdit {
  return onSetList((list) => moved(list, place, place + by))
}

/** The last one stays: a set list names at least one song. */
export function removeFromSetList(place: number): MakeEdit {
  return onSetList((list) => (list.length > 1 ? list.filter((_, at) => at !== place) : list))
}

/** At its end; a song may stand in it more than once. */
export function addToSetList(song: string): MakeEdit {
  return onSetList((list) => [...list, song])
}

function withNew(show: Show, song: Readonly<Record<string, unknown>>, place: number): Edit {
  return {
    label: `Song ${String(song['title'])} added`,
    changes: [insert(['songs', place], song), set(['setList'], [...show.setList, song['id']])],
  }
}

function onSong(id: string, make: (song: Song, place: number, show: Show) => Edit | undefined): MakeEdit {
  return (show) => {
    const place = show.songs.findIndex((song) => song.id === id)
    const song = show.songs[place]
    return song && make(song, place, show)
  }
}

function onSetList(next: (list: Show['setList']) => Show['setList']): MakeEdit {
  return (show) => {
    const list = next(show.setList)
    return list === show.setList ? undefined : { label: 'Set list', changes: [set(['setList'], list)] }
  }
}
