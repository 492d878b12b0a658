import { expect, test } from 'vitest'
import { lightSeen, NO_LIGHT_YET } from '../../../../app/screens/controllers/light-history.ts'
import { barWindow, beatWords, spanBoxes } from '../../../../app/screens/steps/bar-window.ts'
import { roundOf, wayOf } from '../../../../app/screens/steps/way-words.ts'
import type { LampStatus } from '../../../../src/contract/from-engine.ts'
import { paceMicros } from '../../../../src/time/pace.ts'
import { roundOf as roundOfStrategy, WAYS } from '../../../../src/strategies/travel-path.ts'
import { demoShow } from '../../../support/demo.ts'

const SONG = { tempo: 120, beats: 4 }
const BAR = 2_000_000

function lamps(...list: LampStatus[]): ReadonlyMap<string, LampStatus> {
  return new Map(list.map((lamp) => [lamp.lamp, lamp]))
}

function lit(lamp: string, key: number, duty = 0.3): LampStatus {
  return { lamp, on: true, part: 'lead', player: 'keys', key, duty }
}

test('a light lasts from where it was first seen to where it was last', () => {
  let history = lightSeen(NO_LIGHT_YET, lamps({ lamp: 'fern', on: false }), 500)
  expect(history).toMatchObject({ start: null, spans: [] })
  history = lightSeen(history, lamps(lit('fern', 60)), 1_000)
  history = lightSeen(history, lamps(lit('fern', 60, 0.31)), 2_000)
  expect(history.spans).toHaveLength(1)
  history = lightSeen(history, lamps(lit('fern', 62)), 3_000)
  history = lightSeen(history, lamps({ lamp: 'fern', on: false }), 4_000)
  expect(history.start).toBe(1_000)
  expect(history.spans.map(({ key, from, until }) => [key, from, until])).toEqual([
    [60, 1_000, 3_000],
    [62, 3_000, 4_000],
  ])
})

test('a lamp that is no longer told of is dark; an engine that begins anew begins the history anew', () => {
  const history = lightSeen(NO_LIGHT_YET, lamps(lit('fern', 60)), 9_000)
  expect(lightSeen(history, lamps(), 10_000).spans[0]?.until).toBe(10_000)
  expect(lightSeen(history, lamps(lit('moss', 61)), 100)).toMatchObject({
    start: 100,
    spans: [{ lamp: 'moss', from: 100 }],
  })
})

test('the window is whole bars, the last of them the one that is now', () => {
  const history = { start: 1_000_000 }
  expect(barWindow(history, 1_000_000, SONG, 4)).toMatchObject({
    firstBar: 0,
    from: 1_000_000,
    barMicros: BAR,
  })
  expect(barWindow(history, 1_000_000 + 3.99 * BAR, SONG, 4)).toMatchObject({ firstBar: 0 })
  expect(barWindow(history, 1_000_000 + 4 * BAR, SONG, 4)).toMatchObject({
    firstBar: 1,
    from: 1_000_000 + BAR,
  })
  const window = barWindow(history, 1_000_000 + 5.5 * BAR, SONG, 2)
  expect(beatWords(1_000_000 + 2.5 * BAR, history, window)).toBe('bar 3, beat 3.0')
})

test('only what stands in the window is drawn, cut at its edges', () => {
  const window = barWindow({ start: 0 }, 4.5 * BAR, SONG, 4)
  const span = { lamp: 'fern', part: 'lead', player: 'keys', key: 60, duty: 0.3 }
  const boxes = spanBoxes(
    [
      { ...span, from: 0, until: 0.5 * BAR },
      { ...span, from: 0.5 * BAR, until: 2 * BAR },
      { ...span, from: 4 * BAR, until: null },
    ],
    window,
    4.5 * BAR,
  )
  expect(boxes.map(({ left, width }) => [left, width])).toEqual([
    [0, 0.25],
    [0.75, 0.125],
  ])
})

test('the ways over lamps are those that the strategy goes', () => {
  for (const way of WAYS) {
    if (way === 'shuffle') continue
    for (const count of [1, 2, 3, 4, 7]) {
      const places = Array.from({ length: count }, (_, place) => place)
      expect(roundOf(way, places)).toEqual(roundOfStrategy(way, count))
    }
  }
})

test('a way in words and numbers', () => {
  const [, mist] = demoShow().songs
  const [arc, roots] = mist?.parts ?? []
  if (!mist || !arc || !roots) throw new Error('no parts')
  const way = wayOf(arc, mist)
  expect(way?.round).toHaveLength(14)
  // What the strategy itself keeps time by.
  const ms = paceMicros({ every: '1/4' }, mist.tempo) / 1_000
  expect(way?.words.join(' ')).toContain(`every 1/4, ${Number(ms.toFixed(1))} ms at this tempo`)
  expect(way?.words.join(' ')).toContain('Covers 2 lamps at once')
  expect(wayOf(roots, mist)).toBeUndefined()
})

test('a canon says how far each lamp is behind', () => {
  const [song] = demoShow().songs
  const part = song?.parts[0]
  if (!song || !part) throw new Error('no part')
  const delayed = { ...part, strategy: { kind: 'canon', delay: '1/8', priority: 'last' } }
  const eighth = paceMicros({ every: '1/8' }, song.tempo) / 1_000
  expect(wayOf(delayed, song)?.words[1]).toBe(
    `The last is ${Number((3 * eighth).toFixed(1))} ms behind the first.`,
  )
  const timed = { ...part, strategy: { kind: 'canon', delay: '1/8', delayMs: 100 } }
  expect(wayOf(timed, song)?.words[0]).toContain('100 ms later')
})
