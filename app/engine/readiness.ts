import type { SongId } from '../../src/domain/ids.ts'
import { songFamily } from '../../src/domain/song-family.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { Graph } from '../../src/graph/graph.ts'
import type { Place } from '../../src/graph/set-list.ts'
import { neighbour, startWalk } from '../../src/graph/set-list.ts'
import type { SerialTimers } from './ports/serial-system.ts'

/** Songs that are ready at once at most: those that are likeliest to come. */
const MOST = 24
/** From one to the next, so that what is played comes in between. */
const PAUSE: Micros = 1_000

/** Makes the songs ready that may come next, one after the other, while nothing else happens. */
export class Readiness {
  readonly #timers: SerialTimers
  #cancel = (): void => {}
  #isOver = false

  constructor(timers: SerialTimers) {
    this.#timers = timers
  }

  /** Another song plays, or the show is another. */
  renew(graph: Graph, show: Show): void {
    this.#cancel()
    if (this.#isOver) return
    const songs = likelySongs(show, graph.place)
    this.#next(graph, songs, new Set(songs))
  }

  stop(): void {
    this.#isOver = true
    this.#cancel()
  }

  #next(graph: Graph, left: readonly SongId[], all: ReadonlySet<SongId>): void {
    const [song, ...rest] = left
    this.#cancel = this.#timers.at(this.#timers.now() + PAUSE, () => {
      graph.keepPrepared(all)
      if (song === undefined) return
      try {
        graph.prepare(song)
      } catch {
        // It will be made, and its trouble told, when it is asked for.
      }
      this.#next(graph, rest, all)
    })
  }
}

/** Next, previous, the next variant, what controls name, and where any place can be asked for the places around, nearest first. */
export function likelySongs({ songs, setList, switching }: Show, place: Place): readonly SongId[] {
  const walk = startWalk(place)
  const list = { songs, setList }
  const playing = songs.find(({ id }) => id === place.song)
  const likely = [neighbour(list, walk, 'next')?.song, neighbour(list, walk, 'previous')?.song]
  if (playing) likely.push(...songFamily(songs, playing).map(({ id }) => id))
  for (const { do: act } of switching.controls) {
    if (typeof act !== 'object') continue
    if ('song' in act) likely.push(act.song)
    else if ('place' in act) likely.push(setList[act.place - 1])
  }
  const here = place.position ?? 0
  if (switching.controls.some(({ do: act }) => act === 'number'))
    for (let away = 1; away < setList.length; away++) likely.push(setList[here + away], setList[here - away])
  const wanted = new Set(likely.flatMap((song) => song ?? []))
  wanted.delete(place.song)
  return [...wanted].slice(0, MOST)
}
