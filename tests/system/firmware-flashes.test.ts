import { expect, test } from 'vitest'
import { createFlashFigures } from '../../src/guards/flash/flash-figures.ts'
import { GraphRun } from '../support/graph-run.ts'
import type { ScriptStep } from '../support/lamp-box-script.ts'
import { AWAKE, runLampBox } from '../support/lamp-box-script.ts'
import { CYCLES_A_MICRO, edgesOf } from '../support/pin-edges.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../support/shows.ts'
import { validShow } from '../support/valid-show.ts'

const SECOND = 1_000_000
/** A frame, and the firmware's work on it. */
const LATE = 2_000

/** Most of these times in any one second. */
function most(times: readonly number[]): number {
  return Math.max(0, ...times.map((end) => times.filter((at) => at > end - SECOND && at <= end).length))
}

// Struck just after a flash was due, a lamp flashes at once, cut short by the next on the beat: one more in that second.
test.each([
  { ratio: '5:2', struck: 30_000, hz: 5 },
  { ratio: '5:2', struck: 130_000, hz: 5 },
  { ratio: '3:1', struck: 40_000, hz: 6 },
  { ratio: '12:1', struck: 10_000, hz: 24 },
])(
  'flashes of a pulse of $ratio struck at $struck us: what is counted is what the pins of the firmware do',
  ({ ratio, struck, hz }) => {
    const show = validShow(
      glasshouse({
        songs: [
          {
            id: 'tide',
            title: 'Tide table',
            tempo: 120,
            parts: [
              {
                id: 'lead',
                player: 'keys',
                lamps: [...GLASSHOUSE_LAMPS],
                strategy: { kind: 'lowest-free' },
                pulse: { ratio },
                duty: { base: 0.3 },
              },
            ],
          },
        ],
      }),
    )
    const run = new GraphRun(show)
    const { graph } = run
    const end = 3 * SECOND
    graph.play('keys', Uint8Array.of(0x90, 60, 100), struck)
    // Slower: flashes come later than those before, and none by itself meanwhile.
    graph.tellTime({ kind: 'tempo', tempo: 75 }, end / 2)
    graph.play('keys', Uint8Array.of(0x80, 60, 0), end - 200_000)
    graph.advance(end)
    const figures = createFlashFigures(GLASSHOUSE_LAMPS)
    for (const { at, changes } of run.of('frame')) figures.frame(at, changes)
    const counted = figures.finish(end)
    const frames = run.of('bytes').map(({ at, bytes }): ScriptStep => ({
      at: AWAKE + at * CYCLES_A_MICRO,
      send: bytes,
    }))
    graph.dispose()
    const { edges } = runLampBox([...frames, { at: AWAKE + end * CYCLES_A_MICRO, end: true }])
    const own = edgesOf(edges, 0).map(({ level, cycle }) => ({ level, at: (cycle - AWAKE) / CYCLES_A_MICRO }))
    const [rises, falls] = [1, 0].map((level) =>
      own.filter((edge) => edge.level === level).map(({ at }) => at),
    )
    expect(own.length).toBeGreaterThan(2 * 2 * hz)
    expect(counted.perSecondMax).toBe(most(falls ?? []))
    // In the band from the first flash until the lamp is dark.
    expect(Math.abs(counted.bandSeconds * SECOND - (end - 200_000 - (rises?.[0] ?? 0)))).toBeLessThan(
      LATE + SECOND / hz,
    )
  },
)
