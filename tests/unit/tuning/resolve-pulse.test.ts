import { expect, test } from 'vitest'
import type { Pulse } from '../../../src/domain/part-motion.ts'
import type { ResolveIn, ResolveOut } from '../../../src/tuning/resolve.ts'
import type { Said } from '../../support/stage-run.ts'
import { midiOutput } from '../../support/rig-outputs.ts'
import { lightOrder, litBy, resolvePart, runResolve } from '../../support/resolving.ts'

type Run = ReturnType<typeof runResolve>

function pulsing(pulse: Pulse, tempo = 120, more = {}): Run {
  const run = runResolve({}, undefined, [resolvePart({ pulse, duty: 0.1, ...more })])
  run.at(0, beats(tempo, 0))
  return run
}

/** The song's beats, at `from` of them now. */
function beats(tempo: number, at: number, from = 0): ResolveIn {
  return { kind: 'time', time: { clock: { at, beats: from, tempo }, tempo } }
}

const pitched = (amount: number): ResolveIn => ({
  kind: 'expression',
  part: 0,
  expression: { kind: 'pitched', amount },
})

/** In ms: the flashes that lamp 0 was told. */
function flashes(said: readonly Said<ResolveOut>[]): number[] {
  return said.flatMap(({ at, out }) => (litBy([out]).get(0)?.flash === undefined ? [] : [at / 1000]))
}

test('three flashes to two beats: struck off the beat it waits for its flash, and flashes on them', () => {
  const run = pulsing({ ratio: '3:2' })
  // 120 a minute: a beat is 500 ms, so flashes lie 333.3 ms apart.
  expect(run.at(400_000, lightOrder(0, 1, { key: 69 }))).toEqual([])
  const said = run.wakeUpTo(2_100_000)
  expect(flashes(said)).toEqual([666.667, 1000, 1333.333, 1666.667, 2000])
  const first = litBy(said.slice(0, 1).map(({ out }) => out)).get(0)
  expect(first).toMatchObject({ strike: true, hz: 3, duty: 0.1, flash: 2 })
  expect(litBy(said.slice(1, 2).map(({ out }) => out)).get(0)).toMatchObject({ strike: false, flash: 3 })
})

test('struck on the beat, or so short after it that it would still be lit, it flashes at once', () => {
  const run = pulsing({ ratio: '1:1' })
  expect(litBy(run.at(500_000, lightOrder(0, 1))).get(0)?.flash).toBe(1)
  expect(litBy(run.at(1_020_000, lightOrder(1, 2))).get(1)?.flash).toBe(2)
  // A flash of a tenth of a beat would be over after 50 ms.
  expect(run.at(1_555_000, lightOrder(2, 3)).flatMap((out) => [...litBy([out]).keys()])).not.toContain(2)
})

test('a tempo that changes moves the flashes with the beats, and their rate', () => {
  const run = pulsing({ ratio: '1:1' })
  run.at(0, lightOrder(0, 1))
  run.wakeUpTo(1_000_000)
  run.at(1_250_000, beats(60, 1_250_000, 2.5))
  const said = run.wakeUpTo(3_000_000)
  expect(flashes(said)).toEqual([1750, 2750])
  expect(litBy(said.map(({ out }) => out)).get(0)?.hz).toBe(1)
})

test('a pulse with a tempo of its own does not go by the song’s', () => {
  const run = pulsing({ bpm: 90 }, 120)
  run.at(100_000, lightOrder(0, 1))
  run.at(300_000, beats(60, 300_000, 0.6))
  expect(flashes(run.wakeUpTo(1_500_000))).toEqual([766.667, 1433.333])
  expect(flashes(run.said)[0]).toBe(100)
})

test('beats of a clock that is followed: a flash comes with its clock and never before', () => {
  const run = pulsing({ ratio: '1:1' })
  const clocked = (n: number, at: number): ResolveIn => {
    const clock = { at, beats: n / 24, tempo: 120, limit: (n + 1) / 24 }
    return { kind: 'time', time: { clock, tempo: 120 } }
  }
  run.at(0, clocked(0, 0))
  run.at(0, lightOrder(0, 1))
  let at = 0
  for (let n = 1; n <= 48; n++) {
    // Late, early, bunched.
    at = n * 20_833 + ((n * 7919) % 11) * 900
    run.at(at, clocked(n, at))
  }
  const due = [0, 24, 48].map((n) => (n * 20_833 + ((n * 7919) % 11) * 900) / 1000)
  expect(flashes(run.said)).toEqual(due)
})

test('while beats stand still it goes on by itself', () => {
  const run = pulsing({ ratio: '1:1' })
  run.at(0, { kind: 'time', time: { clock: { at: 0, beats: 0.3, tempo: 0 }, tempo: 120 } })
  expect(litBy(run.at(100_000, lightOrder(0, 1))).get(0)).toMatchObject({ hz: 2, strike: true })
  expect(flashes(run.wakeUpTo(5_000_000))).toEqual([])
})

test('one control goes from pulse to pitch by equal ratios, and back onto the beat', () => {
  const run = pulsing({ ratio: '1:1', controller: 1 })
  run.at(0, lightOrder(0, 1, { key: 69 }))
  const hz = (amount: number, at: number) => litBy(run.at(at, pitched(amount))).get(0)?.hz
  expect(hz(0.5, 100_000)).toBeCloseTo(Math.sqrt(2 * 440), 9)
  expect(hz(1, 200_000)).toBeCloseTo(440, 9)
  expect(hz(0, 300_000)).toBe(2)
  expect(flashes(run.wakeUpTo(1_600_000)).slice(-3)).toEqual([500, 1000, 1500])
})

test('the control never makes a step of more than its own, nor one down as it goes up', () => {
  const run = pulsing({ bpm: 30, controller: 1 })
  run.at(0, lightOrder(0, 1, { key: 69 }))
  const rates = Array.from({ length: 128 }, (_, value) => {
    // A flash is told whole before it changes: of the slowest that is two seconds.
    const at = 2_100_000 * (value + 1)
    run.at(at, pitched(value / 127))
    run.wakeUpTo(at + 2_050_000)
    return litBy(run.said.slice(-1).map(({ out }) => out)).get(0)?.hz ?? NaN
  })
  const step = (440 / 0.5) ** (1 / 127)
  rates.slice(1).forEach((rate, place) => expect(rate / (rates[place] ?? 0)).toBeCloseTo(step, 9))
})

test('from 30 flashes a second on the box goes through by itself: no frames', () => {
  const run = pulsing({ ratio: '20:1' }, 120)
  run.at(0, lightOrder(0, 1))
  expect(run.wakeUpTo(2_000_000)).toEqual([])
})

test('a lamp that another part had is dark until its flash; an end before it leaves nothing', () => {
  const run = runResolve({}, undefined, [resolvePart({ pulse: { ratio: '1:1' }, duty: 0.1 }), resolvePart()])
  run.at(0, beats(120, 0))
  run.at(100_000, lightOrder(0, 1, {}, true, 1))
  expect([...litBy(run.at(200_000, lightOrder(0, 2)))]).toEqual([[0, undefined]])
  run.at(300_000, { kind: 'orders', orders: [{ kind: 'dark', lamp: 0 }] })
  expect(run.wakeUpTo(2_000_000).flatMap(({ out }) => [...litBy([out]).values()])).toEqual([])
})

test('what a MIDI lamp cannot flash so slowly is refused', () => {
  const run = runResolve({}, midiOutput(), [resolvePart({ pulse: { bpm: 60 } })])
  expect(run.at(0, lightOrder(0, 7))).toEqual([
    { kind: 'refused', lamp: 0, part: 0, note: 7, reason: 'range' },
  ])
})
