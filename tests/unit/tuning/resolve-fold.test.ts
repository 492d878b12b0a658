import { expect, test } from 'vitest'
import type { Lit } from '../../../src/domain/lamp-state.ts'
import type { Output } from '../../../src/domain/rig.ts'
import type { Fold, ResolvePart } from '../../../src/tuning/resolve.ts'
import { resolve } from '../../../src/tuning/resolve.ts'
import { plantLamp } from '../../support/glasshouse-lamps.ts'
import { lightOrder, litBy, resolvePart } from '../../support/resolving.ts'
import { midiOutput, WIRE } from '../../support/rig-outputs.ts'
import { StageRun } from '../../support/stage-run.ts'

/** Equal steps at 440 Hz: key 15 is 19.445 Hz, key 27 is 38.891, key 35 is 61.735. */
const DEEP = 15

function run(fold: Fold | undefined, part: Partial<ResolvePart> = {}, lamp = {}, output: Output = WIRE) {
  const lamps = [{ lamp: plantLamp(0, { lowHz: 8, ...lamp }), output }]
  return new StageRun(resolve, { lamps, parts: [resolvePart({ lamps: [0], ...part })], fold })
}

function first(stage: ReturnType<typeof run>, key: number, more = {}): Lit | undefined {
  return litBy(stage.at(0, lightOrder(0, 1, { key, ...more }))).get(0)
}

test('a low note moves up by octaves until it is taken for steady light, and it is told from where', () => {
  const warned = first(run(undefined), DEEP)?.hz ?? 0
  expect(warned).toBeCloseTo(19.445, 3)
  const stage = run('band')
  expect((first(stage, DEEP)?.hz ?? 0) / warned).toBeCloseTo(4, 9)
  const told = stage.said.flatMap(({ out }) => (out.kind === 'folded' ? [out] : []))
  expect(told).toEqual([{ kind: 'folded', lamp: 0, part: 0, from: warned, to: warned * 4 }])
})

test('what is fast enough stays, and is not told', () => {
  const stage = run('band')
  expect(first(stage, 35)?.hz).toBeCloseTo(61.735, 3)
  expect(stage.said.every(({ out }) => out.kind === 'wishes')).toBe(true)
})

test('a bend that takes a note under 60 Hz moves it as well, and vibrato stops there', () => {
  const stage = run('band', { vibrato: { cents: 100, hz: 5, delayMs: 0 } })
  first(stage, 35)
  const rates = stage.wakeUpTo(1_000_000).flatMap(({ out }) => litBy([out]).get(0)?.realHz ?? [])
  expect(rates.length).toBeGreaterThan(50)
  expect(Math.min(...rates)).toBeGreaterThanOrEqual(60)
  expect(Math.max(...rates)).toBeLessThan(66)
  stage.at(1_500_000, { kind: 'expression', part: 0, expression: { kind: 'bend', channel: 1, cents: -200 } })
  const bent = stage.wakeUpTo(2_000_000).flatMap(({ out }) => litBy([out]).get(0)?.realHz ?? [])
  expect(Math.min(...bent)).toBeGreaterThan(100)
})

test.each([
  { fold: 'band', bpm: 600, hz: 80 },
  { fold: 'band', bpm: 180, hz: 96 },
  { fold: 'band', bpm: 120, hz: 2 },
  { fold: 'all', bpm: 120, hz: 64 },
  { fold: undefined, bpm: 600, hz: 10 },
] as const)('a pulse of $bpm flashes a minute under $fold sounds at $hz Hz', ({ fold, bpm, hz }) => {
  const stage = run(fold, { pulse: { bpm } })
  const lit = first(stage, 69)
  expect(lit?.hz).toBeCloseTo(hz, 9)
  // Moved, it is one tone, and not told flash by flash.
  const isMoved = hz >= 60
  expect(lit?.flash === undefined).toBe(isMoved)
  expect(stage.wakeUpTo(3_000_000).length > 0).toBe(!isMoved)
})

test('a controller from pulse to pitch passes through no rate that would be seen', () => {
  const stage = run('band', { pulse: { bpm: 120, controller: 1 } })
  first(stage, 69)
  const seen: number[] = []
  for (let step = 0; step <= 100; step++) {
    const amount = step / 100
    const at = 100_000 * (step + 1)
    const told = stage.at(at, { kind: 'expression', part: 0, expression: { kind: 'pitched', amount } })
    for (const out of [...told, ...stage.wakeUpTo(at + 90_000).map((one) => one.out)]) {
      const lit = litBy([out]).get(0)
      if (lit) seen.push(lit.realHz)
    }
  }
  expect(seen.filter((hz) => hz >= 3 && hz < 60)).toEqual([])
  expect(Math.max(...seen)).toBeCloseTo(440, 0)
})

test('a lamp that waits for its flash sounds at once where the tempo makes the pulse a tone', () => {
  const stage = run('band', { pulse: { ratio: '1:1' } })
  const time = (at: number, tempo: number, beats: number) =>
    ({ kind: 'time', time: { clock: { at, beats, tempo }, tempo } }) as const
  stage.at(0, time(0, 120, 0))
  expect(first(stage, 69)?.flash).toBe(0)
  stage.at(200_000, { kind: 'orders', orders: [{ kind: 'dark', lamp: 0 }] })
  expect(litBy(stage.at(300_000, lightOrder(0, 2))).has(0)).toBe(false)
  const told = stage.at(320_000, time(320_000, 200, 0.64))
  const later = stage.wakeUpTo(400_000).map(({ out }) => out)
  const lit = [...told, ...later].flatMap((out) => litBy([out]).get(0) ?? [])
  expect(lit[0]).toMatchObject({ note: 2, strike: true })
  expect(lit[0]?.hz).toBeCloseTo((200 / 60) * 32, 6)
})

test('where no octave is left the note is refused, and the strategy hears of it', () => {
  const stage = run('band', {}, { highHz: 70 })
  expect(first(stage, 27)).toBeUndefined()
  expect(stage.said.map(({ out }) => out)).toMatchObject([{ kind: 'refused', reason: 'range', note: 1 }])
})

test('it goes by what the output makes: a bend so coarse that it lands under 60 Hz is an octave up', () => {
  // A step of 75 cents: key 35 bent for 60.2 Hz comes out lower.
  const output = midiOutput({ bendBits: 7, bendRange: 48 })
  const rates: number[] = []
  for (let cents = 0; cents < 60; cents += 5) {
    const lit = first(run('band', {}, {}, output), 34, { cents: 50 + cents })
    rates.push(lit?.realHz ?? 0)
  }
  expect(Math.min(...rates)).toBeGreaterThanOrEqual(60)
})

test('a guard that becomes another while it sounds: the lamp goes along', () => {
  const stage = run(undefined)
  first(stage, DEEP)
  const up = litBy(stage.at(1000, { kind: 'fold', fold: 'band' })).get(0)
  expect(up?.hz).toBeCloseTo(77.782, 3)
  expect(up?.strike).toBe(false)
  expect(litBy(stage.at(2000, { kind: 'fold', fold: undefined })).get(0)?.hz).toBeCloseTo(19.445, 3)
})
