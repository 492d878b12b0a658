import type { SongId } from '../../src/domain/ids.ts'
import type { Show } from '../../src/domain/show.ts'

/** A song to play and where it stands in the set list, from 0; null: it is not in it. */
export interface Place {
  readonly song: SongId
  readonly position: number | null
}

/**
 * Where to begin: at `position` where the set list has one there and it is no other song than `song`; else at the song's first place; without either at the
 * start of the set list. The song may be one that the show has not: to be checked.
 */
export function firstPlace(show: Show, song?: SongId, position?: number): Place {
  const there = position === undefined ? undefined : show.setList[position]
  if (there !== undefined && position !== undefined && (song ?? there) === there)
    return { song: there, position }
  const first = song ?? show.setList[0] ?? show.songs[0]?.id ?? ''
  return { song: first, position: positionOf(show, first) }
}

function positionOf(show: Show, song: SongId): number | null {
  const position = show.setList.indexOf(song)
  return position < 0 ? null : position
}

/** The way through the set list. A song that stands in it twice is two places. */
export class SetListWalk {
  #show: Show
  #place: Place
  /** The last place in the set list: from a song that is not in it, next and previous go on from here. */
  #last: number

  constructor(show: Show, place: Place) {
    this.#show = show
    this.#place = place
    this.#last = place.position ?? -1
  }

  get place(): Place {
    return this.#place
  }

  /** The place a song is meant at: `position` where it stands there, else the present one where it stands here, else its first. */
  placeOf(song: SongId, position: number | undefined = this.#place.position ?? undefined): Place {
    return firstPlace(this.#show, song, position)
  }

  /** The place before or after; undefined at the ends. */
  neighbour(to: 'next' | 'previous'): Place | undefined {
    const isOutside = this.#place.position === null
    const position = to === 'next' ? this.#last + 1 : isOutside ? this.#last : this.#last - 1
    const song = this.#show.setList[position]
    return song === undefined ? undefined : { song, position }
  }

  go(place: Place): void {
    this.#place = place
    if (place.position !== null) this.#last = place.position
  }

  /** The show has been edited. The song stays, at its place nearest to where it was; one that is gone gives way to what stands there now, or nearest. */
  revise(show: Show): Place {
    this.#show = show
    this.#place = revisedPlace(show, this.#place, this.#last)
    this.#last = this.#place.position ?? Math.min(this.#last, show.setList.length - 1)
    return this.#place
  }
}

/** Where to go on in an edited show; `last`: the last place in the set list before, -1 for none. */
export function revisedPlace(show: Show, { song, position }: Place, last = position ?? -1): Place {
  if (show.songs.some(({ id }) => id === song)) {
    const places = show.setList.flatMap((id, at) => (id === song ? [at] : []))
    const distance = (at: number): number => Math.abs(at - last)
    const nearest = places.sort((a, b) => distance(a) - distance(b))[0]
    return { song, position: nearest ?? null }
  }
  return firstPlace(show, undefined, Math.max(0, Math.min(last, show.setList.length - 1)))
}
