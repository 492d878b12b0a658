import type { SongId } from '../domain/ids.ts'
import type { Song } from '../domain/song.ts'
import { rootOf, songFamily } from '../domain/song-family.ts'

/** A song to play and where it stands in the set list, from 0; null: it is not in it. A variant stands where the song stands that it is one of. */
export interface Place {
  readonly song: SongId
  readonly position: number | null
}

/** Where one is in the set list. */
export interface Walk {
  readonly place: Place
  /** The last place in the set list, -1 for none: from a song that is not in it, next and previous go on from here. */
  readonly last: number
}

/** What of a show the way through it goes by. */
export interface SetList {
  readonly setList: readonly SongId[]
  readonly songs: readonly Pick<Song, 'id' | 'skip' | 'variantOf'>[]
}

/**
 * Where to begin: at `position` where the set list has one there and it is no other song than `song`; else at the song's first place; without either at the
 * first that is not skipped. The song may be one that the show has not: to be checked.
 */
export function firstPlace(list: SetList, song?: SongId, position?: number | null): Place {
  const there = list.setList[position ?? -1]
  if (there !== undefined && (song === undefined || isOf(list, song, there)))
    return { song: song ?? there, position: position ?? null }
  if (song !== undefined) return { song, position: placesOf(list, song)[0] ?? null }
  const first = list.setList.findIndex((id) => !isSkipped(list, id))
  const begins = list.setList[Math.max(0, first)]
  if (begins === undefined) return { song: list.songs[0]?.id ?? '', position: null }
  return { song: begins, position: Math.max(0, first) }
}

export function startWalk(place: Place): Walk {
  return { place, last: place.position ?? -1 }
}

export function goTo(walk: Walk, place: Place): Walk {
  return { place, last: place.position ?? walk.last }
}

/** The place a song is meant at: `position` where it stands there, else the present one where it stands here, else its first. */
export function placeOf(list: SetList, { place }: Walk, song: SongId, position?: number): Place {
  return firstPlace(list, song, position ?? place.position)
}

/** The place before or after that is not skipped; undefined at the ends. */
export function neighbour(list: SetList, { place, last }: Walk, to: 'next' | 'previous'): Place | undefined {
  const way = to === 'next' ? 1 : -1
  const isOutside = place.position === null
  let position = to === 'previous' && isOutside ? last : last + way
  while (isSkipped(list, list.setList[position])) position += way
  const song = list.setList[position]
  return song === undefined ? undefined : { song, position }
}

/** The next variant of the song that plays, and round again, in its place; undefined where it has none. */
export function nextVariant({ songs }: SetList, { place }: Walk): Place | undefined {
  const song = songs.find(({ id }) => id === place.song)
  const family = song ? songFamily(songs, song) : []
  const next = family[(family.findIndex(({ id }) => id === place.song) + 1) % family.length]
  return next && next.id !== place.song ? { song: next.id, position: place.position } : undefined
}

/** Where to go on in an edited show: the song stays, at its place nearest to where it was; one that is gone gives way to what stands there now, or nearest. */
export function revisedWalk(list: SetList, { place: { song }, last }: Walk): Walk {
  const end = list.setList.length - 1
  if (!list.songs.some(({ id }) => id === song))
    return startWalk(firstPlace(list, undefined, Math.max(0, Math.min(last, end))))
  const distance = (at: number): number => Math.abs(at - last)
  const nearest = placesOf(list, song).toSorted((a, b) => distance(a) - distance(b))[0]
  return { place: { song, position: nearest ?? null }, last: nearest ?? Math.min(last, end) }
}

/** Where a song stands in the set list, itself or as the variant of one that does. */
function placesOf(list: SetList, song: SongId): number[] {
  const own = list.setList.flatMap((id, at) => (id === song ? [at] : []))
  return own.length > 0 ? own : list.setList.flatMap((id, at) => (isOf(list, song, id) ? [at] : []))
}

/** Whether `song` is `there`, or both are arrangements of one song. */
function isOf({ songs }: SetList, song: SongId, there: SongId): boolean {
  if (song === there) return true
  const one = songs.find(({ id }) => id === song)
  const other = songs.find(({ id }) => id === there)
  return one !== undefined && other !== undefined && rootOf(one) === rootOf(other)
}

function isSkipped({ songs }: SetList, song: SongId | undefined): boolean {
  return songs.find(({ id }) => id === song)?.skip ?? false
}
