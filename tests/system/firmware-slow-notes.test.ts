import { expect, test } from 'vitest'
import { createFlashFigures } from '../../src/guards/flash/flash-figures.ts'
import { GraphRun } from '../support/graph-run.ts'
import type { ScriptStep } from '../support/lamp-box-script.ts'
import { AWAKE, runLampBox } from '../support/lamp-box-script.ts'
import { CYCLES_A_MICRO, edgesOf } from '../support/pin-edges.ts'
import type { RawShow } from '../support/shows.ts'
import { glasshouse } from '../support/shows.ts'
import { validShow } from '../support/valid-show.ts'

const SECOND = 1_000_000

/** Two seconds of one lamp: its rises at the pins of the firmware, its time lit, and the most flashes in a second as they are counted. */
function played(part: RawShow, play: (run: GraphRun) => void) {
  const show = validShow(
    glasshouse({
      songs: [
        {
          id: 'tide',
          title: 'Tide table',
          tempo: 120,
          parts: [
            { id: 'lead', player: 'keys', lamps: ['fern'], strategy: { kind: 'lowest-free' }, ...part },
          ],
        },
      ],
    }),
  )
  const run = new GraphRun(show)
  const end = 2 * SECOND
  play(run)
  run.graph.advance(end)
  const figures = createFlashFigures(show.rig.lamps.map(({ id }) => id))
  for (const { at, changes } of run.of('frame')) figures.frame(at, changes)
  const cycle = (at: number) => AWAKE + at * CYCLES_A_MICRO
  const frames = run.of('bytes').map(({ at, bytes }): ScriptStep => ({ at: cycle(at), send: bytes }))
  const beats = Array.from({ length: 8 }, (_, count): ScriptStep => ({
    at: cycle(count * 250_000 + 130_000),
    send: { type: 'beat', sequence: count, micros: 0 },
  }))
  run.graph.dispose()
  const { edges } = runLampBox([
    ...[...frames, ...beats].toSorted((a, b) => a.at - b.at),
    { at: cycle(end), end: true },
  ])
  const own = edgesOf(edges, 0)
  const lit = own.reduce((sum, { level, cycle: at }, place) => {
    const next = own[place + 1]?.cycle ?? cycle(end)
    return level === 1 ? sum + next - at : sum
  }, 0)
  const falls = own.flatMap(({ level, cycle: at }) => (level === 0 ? [(at - AWAKE) / CYCLES_A_MICRO] : []))
  const inASecond = falls.map((at) => falls.filter((one) => one > at - SECOND && one <= at).length)
  return {
    rises: own.filter(({ level }) => level === 1).length,
    lit: lit / (end * CYCLES_A_MICRO),
    most: Math.max(0, ...inASecond),
    counted: figures.finish(end).perSecondMax,
  }
}

// A box begins a slow flash anew with whatever it is told (PROTOCOL.md, rates under 30.5 Hz): told every 4 ms the lamp would stay lit, with no pitch, and past its duty.
test('a slow note that wavers flashes as often as it says, and is lit as long', () => {
  // Key 19 is 24.4997 Hz (440 x 2^((19 - 69) / 12)).
  const { rises, lit, most, counted } = played({ vibrato: { cents: 50 }, duty: { base: 0.4 } }, ({ graph }) =>
    graph.play('keys', Uint8Array.of(0x90, 19, 100), 1000),
  )
  expect(Math.abs(rises - 2 * 24.5)).toBeLessThanOrEqual(1)
  expect(Math.abs(lit - 0.4)).toBeLessThan(0.03)
  expect(Math.abs(most - counted)).toBeLessThanOrEqual(1)
})

test('a slow note that is bent by hand goes on flashing', () => {
  const { rises, lit } = played({ duty: { base: 0.4 } }, ({ graph }) => {
    graph.play('keys', Uint8Array.of(0x90, 19, 100), 1000)
    for (let step = 0; step < 180; step++)
      graph.play(
        'keys',
        Uint8Array.of(0xe0, 0, 64 + Math.round(60 * Math.sin(step / 9))),
        10_000 + step * 10_000,
      )
  })
  // Within two semitones of 24.5 Hz.
  expect(rises).toBeGreaterThan(2 * 21.8 - 2)
  expect(rises).toBeLessThan(2 * 27.5 + 2)
  expect(Math.abs(lit - 0.4)).toBeLessThan(0.05)
})

test('a pulse that is swept up to its pitch flashes faster and faster, and is never lit for longer than a flash', () => {
  const { rises, lit } = played(
    { pulse: { ratio: '2:1', controller: 1 }, duty: { base: 0.4 } },
    ({ graph }) => {
      graph.play('keys', Uint8Array.of(0x90, 60, 100), 0)
      for (let step = 1; step < 100; step++) graph.play('keys', Uint8Array.of(0xb0, 1, step), step * 19_000)
    },
  )
  // From 4 Hz by equal ratios to 4 x (261.63 / 4)^(99 / 127) = 104 Hz in 1.88 s, then there: about 58 + 12.
  expect(rises).toBeGreaterThan(60)
  expect(rises).toBeLessThan(80)
  expect(Math.abs(lit - 0.4)).toBeLessThan(0.06)
})
