import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { placeOf } from '../wording/figures.ts'

/** The song that plays, and what stands around it in the set. */
export interface SongPlace {
  readonly song: Song | undefined
  /** `third of five`, or that it is not in the set list. */
  readonly words: string
  readonly next: Song | undefined
  readonly hasPrevious: boolean
  readonly hasNext: boolean
  readonly position: number | null
}

/** Undefined until there is a show, and an engine that said which of its songs plays. */
export function songPlace({ show, song }: HouseView): SongPlace | undefined {
  if (!show || !song) return undefined
  const { position } = song
  const { setList } = show.show
  // A show that was just edited may be a word ahead of the engine.
  const isInSet = position !== null && setList[position] === song.song
  return {
    song: songOf(show.show, song.song),
    words: isInSet ? placeOf(position, setList.length) : 'not in the set list',
    next: isInSet ? songOf(show.show, setList[position + 1]) : undefined,
    hasPrevious: !isInSet || position > 0,
    hasNext: !isInSet || position + 1 < setList.length,
    position: isInSet ? position : null,
  }
}

export function songOf(show: Show, id: string | undefined): Song | undefined {
  return show.songs.find((song) => song.id === id)
}
