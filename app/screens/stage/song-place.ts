import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { rootOf, songFamily } from '../../../src/domain/song-family.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { many, placeOf } from '../wording/figures.ts'

/** The song that plays, and what stands around it in the set. */
export interface SongPlace {
  readonly song: Song | undefined
  /** `third of five`, or that it is not in the set list; and of how many variants it is one. */
  readonly words: string
  /** What the next song will be: songs that are not played tonight are passed over. */
  readonly next: Song | undefined
  readonly hasPrevious: boolean
  readonly hasNext: boolean
  readonly position: number | null
  /** What the next variant will be, where there is one. */
  readonly variant: Song | undefined
}

/** Undefined until there is a show, and an engine that said which of its songs plays. */
export function songPlace({ show, song }: HouseView): SongPlace | undefined {
  if (!show || !song) return undefined
  const { position } = song
  const { setList, songs } = show.show
  const playing = songOf(show.show, song.song)
  const family = playing ? songFamily(songs, playing) : []
  // A show that was just edited may be a word ahead of the engine.
  const there = position === null ? undefined : songOf(show.show, setList[position])
  const isInSet = position !== null && isOneSong(playing, there)
  const after = isInSet ? playedOf(show.show, setList.slice(position + 1)) : []
  const before = isInSet ? playedOf(show.show, setList.slice(0, position)) : []
  const place = isInSet ? placeOf(position, setList.length) : 'not in the set list'
  return {
    song: playing,
    words: family.length > 1 ? `${place}, one of ${many(family.length, 'variant')}` : place,
    next: after[0],
    hasPrevious: !isInSet || before.length > 0,
    hasNext: !isInSet || after.length > 0,
    position: isInSet ? position : null,
    variant:
      family.length > 1
        ? family[(family.findIndex((one) => one === playing) + 1) % family.length]
        : undefined,
  }
}

export function songOf(show: Show, id: string | undefined): Song | undefined {
  return show.songs.find((song) => song.id === id)
}

function playedOf(show: Show, list: readonly string[]): readonly Song[] {
  return list.flatMap((id) => {
    const song = songOf(show, id)
    return song && !song.skip ? [song] : []
  })
}

/** Itself, or another arrangement of it. */
function isOneSong(one: Song | undefined, other: Song | undefined): boolean {
  return one !== undefined && other !== undefined && rootOf(one) === rootOf(other)
}
