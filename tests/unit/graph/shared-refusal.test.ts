import { expect, test } from 'vitest'
import { validShow } from '../../support/valid-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../../support/shows.ts'

const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]

/** Three 10 W lamps on a supply for two, and two keyboards that share the lamps. */
function sharing(second: string): GraphRun {
  const lamps = GLASSHOUSE_LAMPS.slice(0, 3)
  return new GraphRun(
    validShow(
      glasshouse({
        rig: {
          supplies: [{ id: 'bench', volts: 12, maxAmps: 2.5, usable: 0.8 }],
          outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }],
          lamps: lamps.map((id, slot) => ({ id, output: 'wire', slot, supply: 'bench', watts: 10 })),
        },
        players: [
          { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
          { id: 'bass', kind: 'keys', input: { port: 'Bass' } },
        ],
        songs: [
          {
            id: 'tide',
            title: 'Tide table',
            parts: [
              { id: 'lead', player: 'keys', lamps, strategy: { kind: 'lowest-free', steal: 'none' } },
              { id: 'low', player: 'bass', lamps, strategy: { kind: second } },
            ],
          },
        ],
      }),
    ),
  )
}

test.each(['unison', 'lowest-free', 'travel', 'rotate', 'nearest', 'partials', 'canon'])(
  'two parts that both want the lamp there is no current for (the other: %s) leave it, and what sounds goes on',
  (second) => {
    const run = sharing(second)
    run.graph.play('keys', on(60), 1_000)
    run.graph.play('keys', on(64), 1_000)
    run.graph.play('bass', on(28), 2_000)
    run.graph.play('keys', on(67), 3_000)
    run.graph.advance(3_000)
    expect(run.of('diagnostic')).toEqual([])
    expect(run.graph.lamps.map((lamp) => (lamp.on ? lamp.key : 0))).toEqual([60, 64, 0])
    for (const key of [60, 64, 67]) run.graph.play('keys', off(key), 4_000)
    run.graph.play('bass', off(28), 5_000)
    run.runOut()
    expect(run.of('diagnostic')).toEqual([])
    expect(run.litLamps()).toEqual([])
  },
)
