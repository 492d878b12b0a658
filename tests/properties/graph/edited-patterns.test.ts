import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { patternsArbitrary } from '../../support/patterns-arbitrary.ts'
import { checkProperty } from '../../support/property.ts'
import type { RawShow } from '../../support/shows.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const PADS = { id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] }, gateMs: 30, maskMs: 0 }
/** 64 steps of the longest time between two hits that counts, 2 s. */
const LONGEST = 130_000_000

function showOf(patterns: RawShow[]): Show {
  const part = { id: 'grid', player: 'pads', lamps: [...GLASSHOUSE_LAMPS], strategy: { kind: 'steps' } }
  return validShow(
    glasshouse({ players: [PADS], songs: [{ id: 'tide', title: 'Tide table', parts: [part], patterns }] }),
  )
}

interface Where {
  readonly pattern: string
  readonly rows: ReadonlyMap<string, number>
}

/** Which step each row of the pattern stands at, by the row's id, as the tap said it last; before anything was said, before the first. */
function whereIn(run: GraphRun, show: Show): Where {
  const said = run.of('step').at(-1)
  const patterns = show.songs[0]?.patterns ?? []
  const pattern = patterns.find(({ id }) => id === (said?.pattern ?? patterns[0]?.id))
  const rows = (pattern?.rows ?? []).map(({ id }, row): [string, number] => [id, said?.rows[row] ?? -1])
  return { pattern: pattern?.id ?? '', rows: new Map(rows) }
}

const playing = fc.array(
  fc.record({
    key: fc.integer({ min: 36, max: 60 }),
    after: fc.constantFrom(0, 1_000, 15_000, 60_000, 250_000),
  }),
  { maxLength: 30 },
)

const scene = fc.constantFrom(['hit'], ['hit', 'clock', 'both']).chain((advance) => {
  const patterns = patternsArbitrary(GLASSHOUSE_LAMPS, { keys: [36, 60], advance })
  return fc.record({
    first: patterns,
    rounds: fc.array(fc.record({ playing, next: patterns }), { minLength: 1, maxLength: 5 }),
    /** In the end every row is taken away. */
    isEmptied: fc.constant(advance.length > 1),
  })
})

test('patterns edited while they play: the song goes on, rows stay where they were, what has no row any more is dark, and all ends dark', () => {
  checkProperty(
    'edited patterns',
    fc.property(scene, ({ first, rounds, isEmptied }) => {
      let show = showOf(first)
      const run = new GraphRun(show)
      const revise = (patterns: RawShow[]): void => {
        const at = run.graph.now + 1
        run.graph.advance(at)
        const before = whereIn(run, show)
        const owned = soundingRows(run)
        const next = showOf(patterns)
        expect(run.graph.revise(next, at)).toBe(false)
        const after = whereIn(run, next)
        const pattern = next.songs[0]?.patterns.find(({ id }) => id === before.pattern)
        expect(after.pattern).toBe(pattern?.id ?? next.songs[0]?.patterns[0]?.id)
        const kept = (run.of('step').length > 0 ? (pattern?.rows ?? []) : []).flatMap(({ id, steps }) => {
          const was = before.rows.get(id)
          return was === undefined ? [] : [[id, was < 0 ? -1 : was % steps.length] as const]
        })
        expect(kept.map(([id]) => [id, after.rows.get(id)])).toEqual(kept)
        // A row that is gone, or has another lamp now, sounds no more.
        const over = owned.filter(
          ({ lamp, row }) => pattern?.rows.find(({ id }) => id === row)?.lamp !== lamp,
        )
        expect(run.litLamps().filter((lit) => over.some(({ lamp }) => lamp === lit))).toEqual([])
        show = next
      }
      for (const { playing: hits, next } of rounds) {
        for (const { key, after } of hits) run.play([{ player: 'pads', bytes: [0x99, key, 100], after }])
        revise(next)
      }
      if (isEmptied) revise(show.songs[0]?.patterns.map(({ id }) => ({ id, rows: [] })) ?? [])
      run.runOut(LONGEST)
      expect(run.litLamps()).toEqual([])
      expect(run.of('song')).toEqual([])
      expect(run.of('diagnostic')).toEqual([])
    }),
  )
})

/** Lamps that a row of the pattern sounds on now, by the strategy's own state. */
function soundingRows(run: GraphRun): { readonly lamp: string; readonly row: string }[] {
  const cells = run.graph.save().cells
  const cell = Object.entries(cells).find(([name]) => name.startsWith('part grid: steps'))?.[1]
  const state = cell?.state as {
    readonly current: number
    readonly ready: { readonly patterns: readonly { readonly rows: readonly { readonly id: string }[] }[] }
    readonly lamps: readonly ({ readonly row: number | null } | null)[]
  }
  const rows = state.ready.patterns[state.current]?.rows ?? []
  return state.lamps.flatMap((one, lamp) =>
    one && one.row !== null ? [{ lamp: GLASSHOUSE_LAMPS[lamp] ?? '', row: rows[one.row]?.id ?? '' }] : [],
  )
}
