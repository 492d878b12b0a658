import type { Show } from '../../../src/domain/show.ts'
import type { Song } from '../../../src/domain/song.ts'
import { rootOf } from '../../../src/domain/song-family.ts'
import type { HouseView } from '../controllers/house-view.ts'
import { many, playLength } from '../wording/figures.ts'

/** One place of the set list, as the running order prints it. */
export interface OrderPlace {
  readonly place: number
  /** The song the set list names. */
  readonly song: Song
  /** Other arrangements of it. */
  readonly variants: readonly Song[]
  readonly isPlaying: boolean
  /** What plays in this place, where it is not the song itself. */
  readonly playing: Song | undefined
  readonly isComing: boolean
}

/** The set list, place by place. A song that is named and not there any more is left out. */
export function runningOrder(
  { songs, setList }: Show,
  now: HouseView['song'],
  coming: HouseView['coming'],
): readonly OrderPlace[] {
  return setList.flatMap((id, place) => {
    const song = songs.find((one) => one.id === id)
    if (!song) return []
    const isPlaying = now?.position === place
    const playing = isPlaying ? songs.find((one) => one.id === now.song) : undefined
    const variants = songs.filter((one) => one !== song && rootOf(one) === rootOf(song))
    return [
      {
        place,
        song,
        variants,
        isPlaying,
        playing: playing === song ? undefined : playing,
        isComing: coming?.position === place,
      },
    ]
  })
}

/** Songs that no place names, neither themselves nor as a variant, the main arrangement of each. */
export function notInOrder({ songs, setList }: Show): readonly Song[] {
  const named = new Set(setList.flatMap((id) => songs.filter((one) => one.id === id).map(rootOf)))
  return songs.filter((song) => song.variantOf === undefined && !named.has(song.id))
}

/** How long all that is played tonight is planned to be: "22:15", and of how much nothing is known. */
export function sumWords(order: readonly OrderPlace[]): { readonly sum: string; readonly aside: string } {
  const played = order.filter(({ song }) => !song.skip)
  const known = played.flatMap(({ song }) => song.minutes ?? [])
  const unknown = played.length - known.length
  const skipped = order.length - played.length
  return {
    sum: known.length === 0 ? 'not said' : playLength(known.reduce((total, minutes) => total + minutes, 0)),
    aside: [
      ...(unknown > 0 ? [`${many(unknown, 'place')} without a length`] : []),
      ...(skipped > 0 ? ['without what is not played tonight'] : []),
    ].join('; '),
  }
}
