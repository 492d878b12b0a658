import { expect, test } from 'vitest'
import {
  AWAKE,
  lamp,
  runLampBox,
  type ScriptRun,
  type ScriptStep,
  setFrame,
  statuses,
} from '../support/lamp-box-script.ts'
import { edgesOf } from '../support/pin-edges.ts'

const MS = 16_000

/** The cycle at which box time was 0: box time counts from the start of timer 0, a few ms after reset. */
const ORIGIN = (() => {
  const { answers } = runLampBox([
    { at: AWAKE, send: { type: 'beat', sequence: 0, micros: 0 } },
    { at: AWAKE + 2 * MS, end: true },
  ])
  const answer = answers[0]
  if (answer?.frame.type !== 'reply') throw new Error('a beat was not answered')
  // Taken before the reply's 12 bytes went out; the rest of the error is what encoding them took.
  return answer.cycle - 12 * 320 - answer.frame.micros * 16
})()

/** How long after its time, in microseconds, slot 0 rose. */
function lateness(run: ScriptRun, at: number, slot = 0): number {
  return ((edgesOf(run.edges, slot)[0]?.cycle ?? Infinity) - ORIGIN) / 16 - at
}

test('a set for later lands at its time, within 150 us of what replies tell of box time', () => {
  const run = runLampBox([
    { at: AWAKE, send: setFrame(1, [lamp(0, 440)], 30_000) },
    { at: AWAKE + 60 * MS, end: true },
  ])
  expect(statuses(run)).toEqual(['done'])
  expect(Math.abs(lateness(run, 30_000))).toBeLessThan(150)
})

/** Sets for these box times, sent in that order a millisecond apart, then beats; how far off each was from the first. */
function distances(times: readonly number[]): number[] {
  const sets: ScriptStep[] = times.map((at, count) => ({
    at: AWAKE + count * MS,
    send: setFrame(count, [lamp(count % 4, count < 4 ? 300 : 0, 1)], at),
  }))
  const beats: ScriptStep[] = Array.from({ length: 100 }, (_, count) => ({
    at: AWAKE + (9 + count / 2) * MS,
    send: { type: 'beat', sequence: count, micros: 0 },
  }))
  const run = runLampBox([...sets, ...beats, { at: AWAKE + 60 * MS, end: true }])
  expect(new Set(statuses(run))).toEqual(new Set(['done']))
  expect(run.edges.map(({ slot, level }) => [slot, level])).toEqual(
    times.map((_, count) => [count % 4, count < 4 ? 1 : 0]),
  )
  const first = run.edges[0]?.cycle ?? 0
  const gaps = run.edges.map(({ cycle }, at) => (cycle - first) / 16 - ((times[at] ?? 0) - (times[0] ?? 0)))
  console.log(`scheduled sets, us off: ${gaps.map((gap) => gap.toFixed(1)).join(' ')}`)
  return gaps
}

test('sets 200 us and more apart keep their distance within 20 us, on a busy line', () => {
  for (const gap of distances([30_000, 30_200, 31_100, 31_400, 31_999, 32_768, 40_000, 41_000]))
    expect(Math.abs(gap)).toBeLessThan(20)
})

test('eight sets for nearly the same time follow one another within 100 us each, and box time loses nothing', () => {
  for (const [at, gap] of distances([
    30_000, 30_001, 30_001, 30_001, 30_002, 30_002, 30_003, 45_000,
  ]).entries()) {
    expect(gap).toBeGreaterThan(-20)
    expect(gap).toBeLessThan(at === 7 ? 20 : 100 * at + 20)
  }
})

test('in any order they are carried out in order of time', () => {
  const run = runLampBox([
    { at: AWAKE, send: setFrame(1, [lamp(0, 0)], 50_000) },
    { at: AWAKE + MS, send: setFrame(2, [lamp(0, 440, 1)], 40_000) },
    { at: AWAKE + 2 * MS, send: setFrame(3, [lamp(1, 440, 1)], 45_000) },
    { at: AWAKE + 60 * MS, end: true },
  ])
  expect(run.edges.map(({ slot, level }) => [slot, level])).toEqual([
    [0, 1],
    [1, 1],
    [0, 0],
  ])
})

test('a time that has passed: done at once, answered late', () => {
  const run = runLampBox([
    { at: AWAKE + 100 * MS, send: setFrame(1, [lamp(0, 440)], 1000) },
    { at: AWAKE + 102 * MS, send: setFrame(2, [lamp(1, 440)], 0xffff_fff0) },
    { at: AWAKE + 110 * MS, end: true },
  ])
  expect(statuses(run)).toEqual(['late', 'late'])
  for (const slot of [0, 1])
    expect(edgesOf(run.edges, slot)[0]?.cycle).toBeLessThan(AWAKE + (100 + 2 * slot + 1) * MS)
})

test('eight may wait; the ninth is refused, and the eight still come', () => {
  const run = runLampBox([
    ...Array.from({ length: 9 }, (_, count): ScriptStep => ({
      at: AWAKE + count * MS,
      send: setFrame(count, [lamp(0, count % 2 ? 0 : 440, 1)], 50_000 + 1000 * count),
    })),
    { at: AWAKE + 90 * MS, end: true },
  ])
  expect(statuses(run)).toEqual([...Array.from({ length: 8 }, () => 'done'), 'refused'])
  expect(run.edges).toHaveLength(8)
})

test('dark and hello forget what was to come', () => {
  for (const frame of [
    { type: 'dark', sequence: 2 },
    { type: 'hello', sequence: 2, version: 1 },
  ] as const) {
    const run = runLampBox([
      { at: AWAKE, send: setFrame(1, [lamp(0, 440)], 40_000) },
      { at: AWAKE + MS, send: frame },
      { at: AWAKE + 60 * MS, end: true },
    ])
    expect(run.edges).toEqual([])
  }
})

test('box time wraps at 2^32, and sets across the wrap land at their times, in order', () => {
  // The firmware counts turns of 128 us; 2^25 of them are the wrap. 100 turns are left.
  const run = runLampBox([
    { at: AWAKE, poke: 'clock_turns', value: 2 ** 25 - 100 },
    { at: AWAKE + MS, send: setFrame(1, [lamp(0, 0)], 3000) },
    { at: AWAKE + 2 * MS, send: setFrame(2, [lamp(0, 440, 1)], 2 ** 32 - 3000) },
    { at: AWAKE + 20 * MS, send: { type: 'beat', sequence: 3, micros: 0 } },
    { at: AWAKE + 40 * MS, end: true },
  ])
  expect(statuses(run)).toEqual(['done', 'done', 'done'])
  const [rise, fall] = edgesOf(run.edges, 0)
  const wrapped = run.answers[2]
  if (!rise || !fall || wrapped?.frame.type !== 'reply') throw new Error('not lit, or not answered')
  expect(Math.abs((fall.cycle - rise.cycle) / 16 - 6000)).toBeLessThan(20)
  expect(wrapped.frame.micros).toBeLessThan(20_000)
  const wrap = wrapped.cycle - 12 * 320 - wrapped.frame.micros * 16
  expect(Math.abs((fall.cycle - wrap) / 16 - 3000)).toBeLessThan(150)
})
