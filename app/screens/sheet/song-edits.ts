import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { rootOf, songFamily } from '../../../src/domain/song-family.ts'
import type { Control } from '../../../src/domain/switching.ts'
import type { Edit, MakeEdit } from './edit.ts'
import { insert, remove, set } from './edit.ts'
import { newId } from './new-id.ts'

/** A field of a song, as it shall be; undefined takes it away, where it may be left out. `called`: what undo calls it. */
export function setSongField(
  id: string,
  field: keyof Song & string,
  value: unknown,
  called: string = field,
): MakeEdit {
  return onSong(id, (song, place) => {
    if (value === undefined && song[field] === undefined) return undefined
    const way = ['songs', place, field]
    return {
      label: `${called} of ${song.title}`,
      changes: [value === undefined ? remove(way) : set(way, value)],
    }
  })
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

/** Its copy, a song of its own, after it in the show and last of the set list. */
export function duplicateSong(id: string): MakeEdit {
  return onSong(id, (song, place, show) => {
    const title = copyTitle(song.title)
    const { variantOf: _, ...rest } = song
    return withNew(show, { ...rest, id: nextSongId(show, title), title }, place + 1)
  })
}

export function copyTitle(title: string): string {
  return `${title.slice(0, 190)}, copy`
}

/** Its copy as another arrangement of the same song: not in the set list, after the last of its variants in the show. */
export function keepVariant(id: string): MakeEdit {
  return onSong(id, (song, _, show) => {
    const { id: own, title } = nextVariant(show, song)
    const last = songFamily(show.songs, song).at(-1) ?? song
    const variant = { ...song, id: own, title, variantOf: rootOf(song), skip: false }
    return {
      label: `Variant of ${song.title} kept`,
      changes: [insert(['songs', show.songs.indexOf(last) + 1], variant)],
    }
  })
}

/** What the next variant of a song is called: "Slow growth, variant", "Slow growth, variant 2". */
export function nextVariant(show: Show, song: Song): Pick<Song, 'id' | 'title'> {
  const stem = `${song.title.slice(0, 185)}, variant`
  const taken = new Set(show.songs.map(({ title }) => title))
  let title = stem
  for (let count = 2; taken.has(title); count++) title = `${stem} ${count}`
  return { id: nextSongId(show, title), title }
}

/**
 * Out of the show, and wherever it stands in the set list; a show keeps its last song. Its first variant, where it has one, takes its place in the set list, among
 * variants and for controls; controls that would lead nowhere go.
 */
export function removeSong(id: string): MakeEdit {
  return onSong(id, (song, place, show) => {
    const rest = show.songs.filter((one) => one !== song)
    if (rest.length === 0) return undefined
    const variants = show.songs.filter(({ variantOf }) => variantOf === id)
    const heir = variants[0]?.id
    const named = show.setList.flatMap((one) => (one === id ? (heir ?? []) : one))
    const list = named.length > 0 ? named : rest.filter(({ variantOf }) => !variantOf).map((one) => one.id)
    const controls = show.switching.controls
      .flatMap((control): Control | [] => {
        if (typeof control.do !== 'object' || !('song' in control.do) || control.do.song !== id)
          return control
        return heir === undefined ? [] : { ...control, do: { song: heir } }
      })
      .filter((control) => leadsSomewhere(control, list.length))
    return {
      label: `Song ${song.title} removed`,
      changes: [
        set(['setList'], list),
        set(['switching', 'controls'], controls),
        ...variants.map((one) => {
          const way = ['songs', show.songs.indexOf(one), 'variantOf']
          return one.id === heir ? remove(way) : set(way, heir)
        }),
        remove(['songs', place]),
      ],
    }
  })
}

/** Whether the place that a control leads to, if it does, is one of that many. */
export function leadsSomewhere(control: Control, places: number): boolean {
  return typeof control.do !== 'object' || !('place' in control.do) || control.do.place <= places
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
