import { describe, expect, test } from 'vitest'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import type { Hit } from '../../support/drum-hits.ts'
import { countApart, hitsOf } from '../../support/drum-hits.ts'
import { performanceBytes, performancePaths, skipWithoutPerformances } from '../../support/performances.ts'
import { playPads } from '../../support/players.ts'

const SNARE = 38
const KICK = 36
const INPUT = { port: 'Pads', channels: [10] }

/** What the pads player makes of the same file, read by our own reader. */
function played(path: string, more: Parameters<typeof playPads>[0]) {
  const result = readMidiFile(performanceBytes(path))
  if (!result.ok) throw new Error(result.error.what)
  const run = playPads({ input: INPUT, floor: 0, gateMs: 50, ...more })
  const events = result.file.tracks.flatMap((track) => track.events).toSorted((a, b) => a.at - b.at)
  for (const { at, message } of events) run.at(at, message)
  run.runOut()
  return run.said
}

interface Shaken extends Hit {
  /** The hit on another pad that shook it. */
  readonly by: Hit
}

/** Every hit gone through with all hits taken before it; nothing is forgotten. */
function countShaken(hits: readonly Hit[], mask: number, window: number): Shaken[] {
  const taken: Hit[] = []
  const shaken: Shaken[] = []
  for (const hit of hits) {
    if (taken.some(({ key, at }) => key === hit.key && hit.at - at < mask)) continue
    const by = taken.find(
      ({ key, at, velocity }) => key !== hit.key && hit.at - at < window && velocity > 3 * hit.velocity,
    )
    if (by) shaken.push({ ...hit, by })
    else taken.push(hit)
  }
  return shaken
}

describe('drum performances that others played', () => {
  skipWithoutPerformances()
  const paths = performancePaths().filter((path) => path.startsWith('groove/'))

  test('five of them are there', () => {
    expect(paths).toHaveLength(5)
  })

  describe.each(paths)('%s', (path) => {
    test.each([0, 12, 30])('mask %i ms: the hits taken on snare and kick are those apart', (maskMs) => {
      const said = played(path, { maskMs, crosstalkMs: 0 })
      for (const key of [SNARE, KICK]) {
        const hits = hitsOf(path).filter((hit) => hit.key === key)
        expect(hits.length).toBeGreaterThan(10)
        const taken = said.filter(({ out }) => out.kind === 'note-on' && out.key === key)
        const dropped = said.filter(({ out }) => out.kind === 'dropped' && out.key === key)
        expect(taken.length).toBe(countApart(hits, maskMs * 1000))
        expect(taken.length + dropped.length).toBe(hits.length)
        expect(dropped.every(({ out }) => out.kind === 'dropped' && out.why === 'mask')).toBe(true)
      }
      const begun = said.filter(({ out }) => out.kind === 'note-on').length
      expect(said.filter(({ out }) => out.kind === 'note-off').length).toBe(begun)
    })

    test.each([5, 20])(
      'crosstalk %i ms: what is dropped is what was struck a third as hard, so soon after',
      (ms) => {
        const hits = hitsOf(path)
        const said = played(path, { maskMs: 12, crosstalkMs: ms })
        const dropped = said.flatMap(({ at, out }) =>
          out.kind === 'dropped' && out.why === 'crosstalk'
            ? [{ at, key: out.key, velocity: out.velocity }]
            : [],
        )
        const shaken = countShaken(hits, 12_000, ms * 1000)
        for (const { at, key, velocity, by } of shaken)
          console.log(
            `${path}, crosstalk ${ms} ms: ${(at / 1e6).toFixed(3)} s, key ${key} struck ${velocity}, ` +
              `${((at - by.at) / 1000).toFixed(1)} ms after key ${by.key} struck ${by.velocity}`,
          )
        console.log(`${path}, crosstalk ${ms} ms: ${dropped.length} of ${hits.length} hits dropped`)
        expect(dropped.map(({ key, velocity }) => ({ key, velocity }))).toEqual(
          shaken.map(({ key, velocity }) => ({ key, velocity })),
        )
        // Our reader rounds to microseconds.
        for (const [place, { at }] of dropped.entries()) expect(at).toBeCloseTo(shaken[place]?.at ?? -1, -1)
        expect(said.filter(({ out }) => out.kind === 'note-on' || out.kind === 'dropped')).toHaveLength(
          hits.length,
        )
      },
    )
  })

  test('among all of them a mask of 30 ms takes real strokes out, and one of 12 ms fewer', () => {
    const snare = paths.map((path) => hitsOf(path).filter(({ key }) => key === SNARE))
    const [all = 0, apart12 = 0, apart30 = 0] = [0, 12_000, 30_000].map((mask) =>
      snare.reduce((sum, hits) => sum + countApart(hits, mask), 0),
    )
    console.log(`snare strokes: ${all}, left by a mask of 12 ms ${apart12}, of 30 ms ${apart30}`)
    expect(apart12).toBeGreaterThan(apart30)
    expect(all).toBeGreaterThanOrEqual(apart12)
  })

  test('the windows drop something, or nothing was compared', () => {
    expect(paths.flatMap((path) => countShaken(hitsOf(path), 12_000, 20_000)).length).toBeGreaterThan(0)
  })
})
