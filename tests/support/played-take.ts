import type { PlayerId, SongId } from '../../src/domain/ids.ts'
import type { Show } from '../../src/domain/show.ts'
import type { Micros } from '../../src/domain/units.ts'
import { Graph } from '../../src/graph/graph.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { encode } from '../../src/midi/encode.ts'
import { readMidiFile } from '../../src/midi/file-read.ts'

export interface Played {
  readonly graph: Graph
  readonly events: readonly TapEvent[]
}

export interface TakeBytes {
  readonly at: Micros
  readonly player: PlayerId
  readonly bytes: readonly number[]
}

/** A take's bytes in order of time, each track feeding the player of its name. */
export function takeBytes(take: Uint8Array): TakeBytes[] {
  const result = readMidiFile(take)
  if (!result.ok) throw new Error(result.error.what)
  return result.file.tracks
    .flatMap(({ name, events }) =>
      events.map(({ at, message }) => ({ at, player: name, bytes: encode(message) })),
    )
    .sort((a, b) => a.at - b.at)
}

/**
 * Plays a take on the virtual clock until nothing is due any more, everything on the tap noted. `between` is called before each
 * piece and may put another graph, made from the first, in its place.
 */
export function playTake(
  show: Show,
  song: SongId,
  take: readonly TakeBytes[],
  between = (graph: Graph): Graph => graph,
): Played {
  const events: TapEvent[] = []
  let graph = new Graph({ show, song })
  const note = (event: TapEvent): void => void events.push(event)
  graph.tap$.subscribe(note)
  graph.open()
  for (const { at, player, bytes } of take) {
    const next = between(graph)
    if (next !== graph) next.tap$.subscribe(note)
    graph = next
    graph.play(player, bytes, at)
  }
  const latest = graph.now + 3_600_000_000
  while (graph.nextDue < Infinity) {
    if (graph.nextDue > latest) throw new Error('still at work an hour after the last message')
    graph.advance(graph.nextDue)
  }
  return { graph, events }
}
