import { describe, expect, test } from 'vitest'
import { Graph } from '../../src/graph/graph.ts'
import type { TapEvent } from '../../src/graph/tap.ts'
import { demoShow } from '../support/demo.ts'
import { glasshouseTake } from '../support/glasshouse-take.ts'
import { playTake, takeBytes } from '../support/played-take.ts'
import { replayLamps } from '../support/replayed-lamps.ts'

const show = demoShow()
const take = takeBytes(glasshouseTake())

function sent(events: readonly TapEvent[]): string[] {
  return events.flatMap((event) =>
    event.kind === 'bytes' ? [`${event.at} ${event.output} ${event.bytes.join(' ')}`] : [],
  )
}

/** A call of `act` before every `every`th piece. */
function nowAndThen(every: number, act: (graph: Graph) => Graph): (graph: Graph) => Graph {
  let pieces = 0
  return (graph) => (++pieces % every === 0 ? act(graph) : graph)
}

describe.each(show.songs)('the demo take in "$title", interrupted', (song) => {
  const straight = playTake(show, song.id, take)

  test('byte by byte it gives the same bytes', () => {
    const bytes = take.flatMap((one) => one.bytes.map((byte) => ({ ...one, bytes: [byte] })))
    expect(sent(playTake(show, song.id, bytes).events)).toEqual(sent(straight.events))
  })

  test('put down as JSON and taken up again at every 7th message it gives the same bytes', () => {
    const resumed = playTake(
      show,
      song.id,
      take,
      nowAndThen(7, (graph) => {
        const saved = JSON.parse(JSON.stringify(graph.save()))
        graph.dispose()
        return new Graph({ show, song: song.id, saved })
      }),
    )
    expect(sent(resumed.events)).toEqual(sent(straight.events))
  })

  test('made dark at every 50th message it keeps the lamp boxes in step and ends dark', () => {
    const { graph, events } = playTake(
      show,
      song.id,
      take,
      nowAndThen(50, (one) => {
        one.darkAll(one.now)
        expect(one.lamps.some(({ on }) => on)).toBe(false)
        return one
      }),
    )
    expect(events.filter(({ kind }) => kind === 'diagnostic')).toEqual([])
    expect(replayLamps(show, events).end.some(({ on }) => on)).toBe(false)
    expect(graph.lamps.some(({ on }) => on)).toBe(false)
  })
})

test('through the set list, a song change at every 90th message, nothing stays lit', () => {
  let place = 0
  const { graph, events } = playTake(
    show,
    show.setList[0]!,
    take,
    nowAndThen(90, (one) => {
      place = (place + 1) % show.setList.length
      one.changeSong(show.setList[place]!, one.now)
      return one
    }),
  )
  expect(events.filter(({ kind }) => kind === 'diagnostic')).toEqual([])
  const replayed = replayLamps(show, events)
  expect(replayed.litMoments).toBeGreaterThan(1000)
  expect(replayed.end.some(({ on }) => on)).toBe(false)
  const parts = events.flatMap((one) =>
    one.kind === 'frame' ? one.changes.flatMap(({ state }) => (state.on ? [state.part] : [])) : [],
  )
  expect(new Set(parts)).toEqual(new Set(show.songs.flatMap((song) => song.parts.map(({ id }) => id))))
  graph.close(graph.now)
  expect(graph.lamps.some(({ on }) => on)).toBe(false)
})

test('closed in the middle of a chord, the last bytes leave every lamp dark', () => {
  const half = take.slice(0, Math.floor(take.length / 2))
  const events: TapEvent[] = []
  const graph = new Graph({ show, song: 'dew' })
  graph.tap$.subscribe((event) => void events.push(event))
  graph.open()
  for (const { at, player, bytes } of half) graph.play(player, bytes, at)
  expect(graph.lamps.some(({ on }) => on)).toBe(true)
  graph.close(graph.now)
  expect(replayLamps(show, events).end.some(({ on }) => on)).toBe(false)
})
