import { describe, expect, test } from 'vitest'
import type { Show } from '../../src/domain/show.ts'
import { GraphRun } from '../support/graph-run.ts'
import { AWAKE, runLampBox, type ScriptStep } from '../support/lamp-box-script.ts'
import { CYCLES_A_MICRO, edgesOf, pulsesOf } from '../support/pin-edges.ts'
import type { RawShow } from '../support/shows.ts'
import { glasshouse } from '../support/shows.ts'
import { validShow } from '../support/valid-show.ts'

const SECOND = 1_000_000
/** A frame's way to the pin, in microseconds: 0.4 ms on the line, then what the firmware takes. */
const WAY = 1000

/** The keys pulse on fern, 120 beats a minute. */
function house(pulse: object): Show {
  const part = { player: 'keys', strategy: { kind: 'lowest-free' }, duty: { base: 0.1 } }
  return validShow(
    glasshouse({
      songs: [
        { id: 'tide', title: 'Tide', tempo: 120, parts: [{ id: 'lead', lamps: ['fern'], ...part, pulse }] },
      ],
    } as RawShow),
  )
}

/** The firmware's pins for what left, its clock so much faster than ours; it is told four times a second that we live. */
function pinsFor(run: GraphRun, until: number, faster = 1) {
  const cycle = (at: number) => AWAKE + Math.round(at * CYCLES_A_MICRO * faster)
  const frames = run.of('bytes').map(({ at, bytes }): ScriptStep => ({ at: cycle(at), send: bytes }))
  const beats = Array.from({ length: Math.ceil(until / 250_000) }, (_, count): ScriptStep => ({
    at: cycle(count * 250_000 + 125_000),
    send: { type: 'beat', sequence: count % 256, micros: 0 },
  }))
  const { edges } = runLampBox([
    ...[...frames, ...beats].toSorted((a, b) => a.at - b.at),
    { at: cycle(until), end: true },
  ])
  const micros = (at: number) => (at - AWAKE) / CYCLES_A_MICRO / faster
  return { edges, rises: edgesOf(edges, 0).flatMap(({ level, cycle: at }) => (level ? [micros(at)] : [])) }
}

/** Whether there is exactly one rise for each time, up to `WAY` after it, and none besides. */
function expectFlashes(rises: readonly number[], due: readonly number[]): void {
  expect(rises).toHaveLength(due.length)
  rises.forEach((at, place) => {
    const late = at - (due[place] ?? NaN)
    // At first all lamps are told with it.
    expect(late).toBeLessThan(place === 0 ? 2 * WAY : WAY)
    expect(late).toBeGreaterThan(0)
  })
}

describe('pulses at the pins of the firmware, simulated', () => {
  test('three rises to two beats, through a tempo that is tapped meanwhile', () => {
    const run = new GraphRun(house({ ratio: '3:2' }))
    run.graph.play('keys', [0x90, 60, 100], 0)
    run.graph.tellTime({ kind: 'tempo', tempo: 90 }, 3 * SECOND)
    run.graph.advance(9 * SECOND)
    const { rises } = pinsFor(run, 9 * SECOND)
    // 120 a minute: 333.3 ms; from 3 s, beat 6, flash 9, on 90 a minute: 444.4 ms.
    const due = [
      ...Array.from({ length: 9 }, (_, n) => (n * SECOND) / 3),
      ...Array.from({ length: 14 }, (_, n) => 3 * SECOND + (n * SECOND * 4) / 9),
    ]
    expectFlashes(
      rises,
      due.filter((at) => at < 9 * SECOND - WAY),
    )
  })

  test.each([
    ['a clock 0.5 % fast', 1.005],
    ['a clock 0.5 % slow', 0.995],
  ])('a box with %s stays on the beat', (_, faster) => {
    const run = new GraphRun(house({ ratio: '2:1' }))
    run.graph.play('keys', [0x90, 60, 100], 0)
    run.graph.advance(12 * SECOND - 100_000)
    const { rises } = pinsFor(run, 12 * SECOND - 100_000, faster)
    // By itself it would be 60 ms off by then.
    expectFlashes(
      rises,
      Array.from({ length: 48 }, (__, n) => n * 250_000),
    )
  })

  test('one control from pulse to pitch: the pins flash at what was told, to a thousandth', () => {
    const run = new GraphRun(house({ ratio: '1:1', controller: 1 }))
    run.graph.play('keys', [0x90, 69, 100], 0)
    const values = [32, 64, 96, 127]
    values.forEach((value, place) => run.graph.play('keys', [0xb0, 1, value], (place + 1) * SECOND))
    run.graph.advance(6 * SECOND)
    const { edges } = pinsFor(run, 6 * SECOND)
    values.forEach((value, place) => {
      const from = AWAKE + ((place + 1) * SECOND + 500_000) * CYCLES_A_MICRO
      const pulses = pulsesOf(edges, 0, from, from + 500_000 * CYCLES_A_MICRO)
      const mean = pulses.reduce((sum, { period }) => sum + period, 0) / pulses.length
      // From 2 Hz to 440 Hz by equal ratios.
      const hz = 2 * (440 / 2) ** (value / 127)
      expect(Math.abs(16_000_000 / mean / hz - 1)).toBeLessThan(1e-3)
    })
  })
})
