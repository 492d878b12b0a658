import { expect, test } from 'vitest'
import type { ResolveIn } from '../../../src/tuning/resolve.ts'
import { wirePace } from '../../../src/tuning/wire-pace.ts'
import { encodeFrame } from '../../../src/outputs/frame-wire.ts'
import { midiOutput, WIRE } from '../../support/rig-outputs.ts'
import { lightOrder, litBy, resolvePart, runResolve } from '../../support/resolving.ts'

const bend = (cents: number): ResolveIn => ({
  kind: 'expression',
  part: 0,
  expression: { kind: 'bend', channel: 1, cents },
})

test('of a flood of bends the first leaves at once, then one each 4 ms, and the last always', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1, { key: 69 }))
  const times: number[] = []
  // One each 100 us for 20 ms.
  for (let cents = 1; cents <= 200; cents++) {
    for (const { at } of run.wakeUpTo(100_000 + cents * 100)) times.push(at)
    if (run.at(100_000 + cents * 100, bend(cents)).length > 0) times.push(100_000 + cents * 100)
  }
  for (const { at } of run.runOut()) times.push(at)
  expect(times).toEqual([100_100, 104_100, 108_100, 112_100, 116_100, 120_100])
  const last = run.said.at(-1)?.out
  expect(litBy(last ? [last] : []).get(0)?.hz).toBeCloseTo(440 * 2 ** (200 / 1200), 9)
})

test('strikes and ends wait for nothing', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1, { key: 69 }))
  run.at(1000, bend(10))
  run.at(1100, bend(20))
  expect(litBy(run.at(1200, lightOrder(1, 2, { key: 60 }))).get(1)?.strike).toBe(true)
  expect([...litBy(run.at(1300, { kind: 'orders', orders: [{ kind: 'dark', lamp: 0 }] }))]).toEqual([
    [0, undefined],
  ])
  // What waited for a lamp that is dark by now says nothing of it.
  expect(run.runOut().map(({ out }) => [...litBy([out]).keys()])).toEqual([])
})

test('lamps of one output that move leave together', () => {
  const run = runResolve({}, undefined, [resolvePart({ vibrato: { cents: 20, hz: 5, delayMs: 0 } })])
  for (const lamp of [0, 1, 2]) run.at(lamp * 500, lightOrder(lamp, lamp + 1, { key: 60 + lamp }))
  const said = run.wakeUpTo(100_000)
  expect(said.length).toBeGreaterThanOrEqual(24)
  for (const { out } of said.slice(1)) expect([...litBy([out]).keys()]).toEqual([0, 1, 2])
})

test('with each part that moves, the wire is at most half taken: as many bytes as frames really have', () => {
  for (const baud of [115_200, 500_000])
    for (const lamps of [1, 4, 35, 36, 64, 256]) {
      const pace = wirePace({ ...WIRE, baud }, lamps)
      const sets = Array.from({ length: Math.ceil(lamps / 35) }, (_, set) =>
        Array.from({ length: Math.min(35, lamps - 35 * set) }, (_, lamp) => ({
          slot: (set * 35 + lamp) % 256,
          rate: 0x01020304,
          duty: 0x1122,
        })),
      )
      const bytes = sets.reduce(
        (sum, each) => sum + encodeFrame({ type: 'set', sequence: 1, at: 0, lamps: each }).length,
        0,
      )
      // A start and a stop bit to a byte.
      expect((bytes * 10 * 1e6) / baud).toBeLessThanOrEqual(pace / 2 + 1)
      expect(pace).toBeGreaterThanOrEqual(4000)
    }
  // MIDI 1.0: 31,250 baud, so a bend of three bytes is 0.96 ms.
  expect(wirePace(midiOutput(), 16) / 2).toBeGreaterThanOrEqual(16 * 960)
})
