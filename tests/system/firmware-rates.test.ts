import { expect, test } from 'vitest'
import { dutyToTicks } from '../../src/tuning/duty-ticks.ts'
import { quantiseToTimer } from '../../src/tuning/timer.ts'
import { AWAKE, lamp, runLampBox, setFrame } from '../support/lamp-box-script.ts'
import { onTimeOf, pulsesOf, rateOf } from '../support/pin-edges.ts'
import { TIMER_16MHZ } from '../support/rig-outputs.ts'

const SECOND = 16_000_000
const equalTempered = (note: number) => 440 * 2 ** ((note - 69) / 12)
const cents = (hz: number, other: number) => 1200 * Math.log2(hz / other)

/** One lamp lit for a second (beats keep it so), and what the formula says of it. */
function lit(hz: number, duty: number, slot = 0, ...options: string[]) {
  const beats = [1, 2, 3, 4, 5].map((fifths) => ({
    at: AWAKE + (fifths / 5) * SECOND,
    send: { type: 'beat' as const, sequence: fifths, micros: 0 },
  }))
  const run = runLampBox(
    [{ at: AWAKE, send: setFrame(0, [lamp(slot, hz, duty)]) }, ...beats, { at: 1.2 * SECOND, end: true }],
    ...options,
  )
  const timer = quantiseToTimer(hz, TIMER_16MHZ)
  if (!timer) throw new Error(`the timer cannot make ${hz} Hz`)
  const { prescaler, top } = timer.drive
  return { run, realHz: timer.realHz, prescaler, top, ticks: dutyToTicks(duty, top) }
}

for (const [slot, note] of [
  [0, 28],
  [1, 45],
  [2, 60],
  [3, 69],
  [0, 84],
  [1, 28],
  [2, 28],
  [3, 28],
] as const) {
  test(`note ${note} on slot ${slot}: each period and each on-time exactly as the timer formula says`, () => {
    const { run, realHz, prescaler, top, ticks } = lit(equalTempered(note), 0.3, slot)
    const pulses = pulsesOf(run.edges, slot).slice(1)
    expect(pulses.length).toBeGreaterThan(35)
    expect(new Set(pulses.map(({ period }) => period))).toEqual(new Set([prescaler * (top + 1)]))
    expect(new Set(pulses.map(({ on }) => on))).toEqual(new Set([prescaler * ticks]))
    expect(Math.abs(cents(rateOf(run.edges, slot, AWAKE + 0.1 * SECOND), realHz))).toBeLessThan(1e-6)
    expect(run.edges.every((edge) => edge.slot === slot)).toBe(true)
  })
}

for (const hz of [440, 41.2034]) {
  test(`simavr's own timers measure the same ${hz} Hz and duty`, () => {
    const { run, realHz, prescaler, ticks } = lit(hz, 0.3, 0, '--stock-timers')
    expect(Math.abs(cents(rateOf(run.edges, 0, AWAKE + 0.1 * SECOND), realHz))).toBeLessThan(0.01)
    const on = onTimeOf(run.edges, 0, AWAKE + 0.1 * SECOND)
    expect(Math.abs(on - prescaler * ticks)).toBeLessThan(prescaler + 4)
  })
}

test('the least duty is one tick', () => {
  const { run, prescaler, ticks } = lit(41.2034, 0, 2)
  expect(ticks).toBe(1)
  expect(new Set(pulsesOf(run.edges, 2).map(({ on }) => on))).toEqual(new Set([prescaler]))
})

test('a duty of 1 is always on: one edge', () => {
  const { run } = lit(440, 1, 3)
  expect(run.edges.map(({ slot, level }) => [slot, level])).toEqual([[3, 1]])
})

test('a duty of all but one tick has a gap of one tick', () => {
  const { run, top, prescaler, ticks } = lit(60, 65534 / 65535, 1)
  expect(ticks).toBe(top)
  const gaps = new Set(
    pulsesOf(run.edges, 1)
      .slice(1)
      .map(({ on, period }) => period - on),
  )
  expect(gaps).toEqual(new Set([prescaler]))
})

test('the highest rate that a frame can hold, and the lowest that the timer can make', () => {
  const high = lit(0xffff_ffff / 65536, 0.5)
  expect(
    new Set(
      pulsesOf(high.run.edges, 0)
        .slice(1)
        .map(({ period }) => period),
    ),
  ).toEqual(new Set([244]))
  const low = lit(15_625 / 65536, 0.1)
  expect(low.prescaler).toBe(1024)
  // On for 0.42 s of its 4.2 s: one pulse within the second.
  expect(low.run.edges).toHaveLength(2)
})
