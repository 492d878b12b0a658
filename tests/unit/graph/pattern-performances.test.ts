import { describe, expect, test } from 'vitest'
import { encode } from '../../../src/midi/encode.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { countApart, hitsOf } from '../../support/drum-hits.ts'
import { performanceBytes, performancePaths, skipWithoutPerformances } from '../../support/performances.ts'
import { playTake } from '../../support/played-take.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

/** The drummer's pads move five steps against four by the hits on one key. */
function movedBy(key: number, maskMs: number) {
  const input = { port: 'Pads', channels: [10] }
  const pattern = {
    id: 'five',
    gateMs: 20,
    rows: [
      { lamp: 'fern', steps: [60, 62, 64, 65, 67] },
      { lamp: 'moss', steps: [48, 0, 0, 0] },
    ],
    pads: [{ key, do: 'advance' }],
  }
  const grid = { id: 'grid', player: 'pads', lamps: ['fern', 'moss'], strategy: { kind: 'steps' } }
  return validShow(
    glasshouse({
      players: [{ id: 'pads', kind: 'pads', input, floor: 0, crosstalkMs: 0, maskMs }],
      songs: [{ id: 'tide', title: 'Tide table', parts: [grid], patterns: [pattern] }],
    } as never),
  )
}

describe('drum performances that others played (Groove MIDI Dataset) move a pattern', () => {
  skipWithoutPerformances()
  const paths = performancePaths().filter((path) => path.startsWith('groove/'))

  test('five of them are there', () => {
    expect(paths).toHaveLength(5)
  })

  describe.each(paths)('%s', (path) => {
    const each = [38, 36].flatMap((key) => [0, 12, 30].map((maskMs) => ({ key, maskMs })))
    test.each(each)('by key $key, mask $maskMs ms: once for every hit apart', ({ key, maskMs }) => {
      const read = readMidiFile(performanceBytes(path))
      if (!read.ok) throw new Error(read.error.what)
      const take = read.file.tracks
        .flatMap(({ events }) => events)
        .toSorted((a, b) => a.at - b.at)
        .map(({ at, message }) => ({ at, player: 'pads', bytes: encode(message) }))
      const { events, graph } = playTake(movedBy(key, maskMs), 'tide', take)
      const moves = events.flatMap((event) => (event.kind === 'step' ? [event.rows] : []))
      const count = countApart(
        hitsOf(path).filter((hit) => hit.key === key),
        maskMs * 1000,
      )
      expect(count).toBeGreaterThan(10)
      // Each move is one on, in both rows.
      expect(moves).toEqual(Array.from({ length: count }, (_, move) => [move % 5, move % 4]))
      expect(graph.lamps.some(({ on }) => on)).toBe(false)
    })
  })
})
