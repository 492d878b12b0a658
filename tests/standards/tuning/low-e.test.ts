import { describe, expect, test } from 'vitest'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import { encode } from '../../../src/midi/encode.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { bend, off, on } from '../../support/midi-messages.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

/** E1, the lowest open string of a bass, in equal temperament at A4 440 Hz: 440 x 2^(-41/12) Hz. */
const LOW_E_HZ = 41.203
const LOW_E = 28
const ms = 1_000

function run(part: RawShow, lamp: RawShow = { lowHz: 60 }): GraphRun {
  const show = glasshouse({
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
      outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }],
      lamps: ['fern', 'moss'].map((id, slot) => ({
        id,
        output: 'wire',
        slot,
        supply: 'bench',
        watts: 10,
        ...lamp,
      })),
    },
    players: [{ id: 'bass', kind: 'strings', input: { port: 'Bass', channels: [1, 2, 3, 4] } }],
    songs: [
      {
        id: 'tide',
        title: 'Tide',
        parts: [
          { id: 'low', player: 'bass', lamps: ['fern'], strategy: { kind: 'unison' }, ...part },
          { id: 'high', player: 'bass', lamps: ['moss'], strategy: { kind: 'unison' }, notes: [36, 127] },
        ],
      },
    ],
  })
  return new GraphRun(validShow(show))
}

function play(graph: GraphRun, messages: readonly (readonly [number, MidiMessage])[]): void {
  for (const [at, message] of messages) graph.graph.play('bass', encode(message), at * ms)
  graph.runOut()
}

function changes(graph: GraphRun, lamp: string) {
  return graph
    .of('frame')
    .flatMap(({ at, changes: all }) =>
      all.filter((one) => one.lamp === lamp).map(({ state }) => ({ at, state })),
    )
}

function rates(graph: GraphRun, lamp: string): number[] {
  return changes(graph, lamp).flatMap(({ state }) => (state.on ? [state.hz] : []))
}

describe('a low E on a lamp', () => {
  test('that goes down to 60 Hz is an octave up; the box makes it to a tenth of a cent', () => {
    const graph = run({})
    play(graph, [
      [0, on(LOW_E)],
      [400, off(LOW_E)],
    ])
    const [lit, dark] = changes(graph, 'fern')
    expect(lit).toMatchObject({ at: 20 * ms, state: { on: true, key: LOW_E } })
    expect(lit?.state.on ? lit.state.hz : 0).toBeCloseTo(2 * LOW_E_HZ, 2)
    const cents = lit?.state.on ? 1200 * Math.log2(lit.state.realHz / (2 * LOW_E_HZ)) : NaN
    expect(Math.abs(cents)).toBeLessThan(0.1)
    expect(dark).toMatchObject({ at: 402 * ms, state: { on: false } })
  })

  test('that goes down to 20 Hz is what it is', () => {
    const graph = run({}, { lowHz: 20 })
    play(graph, [
      [0, on(LOW_E)],
      [400, off(LOW_E)],
    ])
    expect(rates(graph, 'fern')).toEqual([expect.closeTo(LOW_E_HZ, 2)])
  })

  test('guessed an octave up first is the same light, and no other', () => {
    const graph = run({})
    play(graph, [
      [0, on(LOW_E + 12)],
      [10, off(LOW_E + 12)],
      [11, on(LOW_E)],
      [400, off(LOW_E)],
    ])
    expect(rates(graph, 'fern')).toEqual([expect.closeTo(2 * LOW_E_HZ, 2)])
  })

  test('slid an octave up by the bend is what it came to', () => {
    const graph = run({})
    const steps = Array.from(
      { length: 12 },
      (_, step) => [100 + 10 * step, bend(8192 + 682 * (step + 1))] as const,
    )
    play(graph, [[0, on(LOW_E)], ...steps, [400, off(LOW_E)]])
    expect(rates(graph, 'fern').at(-1)).toBeCloseTo(2 * LOW_E_HZ * 2 ** ((12 * 682) / 8192 - 1), 2)
  })
})

describe('parts side by side', () => {
  test('a note put right by an octave after it began goes to the part whose key it is', () => {
    const graph = run({ notes: [0, 35] })
    play(graph, [
      [0, on(LOW_E + 12)],
      [28, off(LOW_E + 12)],
      [29, on(LOW_E)],
      [400, off(LOW_E)],
    ])
    expect(changes(graph, 'moss').map(({ at, state }) => [at / ms, state.on])).toEqual([
      [20, true],
      [29, false],
    ])
    expect(changes(graph, 'fern').map(({ at, state }) => [at / ms, state.on])).toEqual([
      [29, true],
      [402, false],
    ])
  })

  test('a legato line over the border goes from one to the other', () => {
    const graph = run({ notes: [0, 35] })
    play(graph, [
      [0, on(34)],
      [200, on(37)],
      [201, off(34)],
      [400, off(37)],
    ])
    expect(changes(graph, 'fern').map(({ at, state }) => [at / ms, state.on])).toEqual([
      [20, true],
      [220, false],
    ])
    expect(changes(graph, 'moss').map(({ at, state }) => [at / ms, state.on])).toEqual([
      [220, true],
      [402, false],
    ])
  })
})
