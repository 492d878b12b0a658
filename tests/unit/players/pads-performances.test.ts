import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { performanceBytes, performancePaths, skipWithoutPerformances } from '../../support/performances.ts'
import { playPads } from '../../support/players.ts'

const SNARE = 38
const KICK = 36

interface Heard {
  readonly at: number
  readonly message: MidiMessage
}

function heard(path: string): Heard[] {
  const result = readMidiFile(performanceBytes(path))
  if (!result.ok) throw new Error(result.error.what)
  return result.file.tracks.flatMap((track) => track.events).toSorted((a, b) => a.at - b.at)
}

/** Hits that are left where one that comes sooner than `mask` after the last one left is taken out. */
function countApart(times: readonly number[], mask: number): number {
  let left = 0
  let next = -Infinity
  for (const at of times) {
    if (at < next) continue
    left++
    next = at + mask
  }
  return left
}

function timesOf(events: readonly Heard[], key: number): number[] {
  return events.flatMap(({ at, message }) => (message.type === 'note-on' && message.key === key ? [at] : []))
}

describe('drum performances that others played', () => {
  skipWithoutPerformances()
  const paths = performancePaths().filter((path) => path.startsWith('groove/'))

  describe.each(paths)('%s', (path) => {
    test.each([0, 12, 30])('mask %i ms: the hits taken on snare and kick are those apart', (maskMs) => {
      const events = heard(path)
      const input = { port: 'Pads', channels: [10] }
      const run = playPads({ input, floor: 0, crosstalkMs: 0, maskMs, gateMs: 50 })
      for (const { at, message } of events) run.at(at, message)
      run.runOut()
      for (const key of [SNARE, KICK]) {
        const hits = timesOf(events, key)
        expect(hits.length).toBeGreaterThan(10)
        const taken = run.said.filter(({ out }) => out.kind === 'note-on' && out.key === key)
        const dropped = run.said.filter(({ out }) => out.kind === 'dropped' && out.key === key)
        expect(taken.length).toBe(countApart(hits, maskMs * 1000))
        expect(taken.length + dropped.length).toBe(hits.length)
        expect(dropped.every(({ out }) => out.kind === 'dropped' && out.why === 'mask')).toBe(true)
      }
      const begun = run.said.filter(({ out }) => out.kind === 'note-on').length
      expect(run.said.filter(({ out }) => out.kind === 'note-off').length).toBe(begun)
    })
  })

  test('among all of them a mask of 30 ms takes real strokes out, and one of 12 ms fewer', () => {
    const [all = 0, apart12 = 0, apart30 = 0] = [0, 12_000, 30_000].map((mask) =>
      paths.reduce((sum, path) => sum + countApart(timesOf(heard(path), SNARE), mask), 0),
    )
    expect(apart12).toBeGreaterThan(apart30)
    expect(all).toBeGreaterThan(apart30)
  })
})
