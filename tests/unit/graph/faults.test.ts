import { expect, test } from 'vitest'
import { z } from 'zod'
import type { PartEvent } from '../../../src/domain/part-event.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import type { AnyStrategy } from '../../../src/strategies/strategy.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { glasshouse } from '../../support/shows.ts'
import { parseShow } from '../../../src/show/parse-show.ts'

/** Lights its lamps like `lowest-free`, and fails on key 99, on `failsOn` events, or on any wake. */
function fragile(failsOn: readonly PartEvent['kind'][] = []): AnyStrategy {
  const inner = strategies.find(({ kind }) => kind === 'lowest-free')
  if (!inner) throw new Error('no lowest-free')
  return {
    kind: 'fragile',
    about: 'fails when it is told to',
    options: z.strictObject({}),
    start: (_, lamps) => inner.start({ steal: 'oldest', resume: true }, lamps),
    step(state, event, view, now) {
      if (event.kind === 'note-on' && event.note.key === 99) throw new Error('key 99 is too much')
      if (failsOn.includes(event.kind)) throw new Error(`fails on ${event.kind}`)
      return inner.step(state, event, view, now)
    },
  }
}

function runWith(strategy: AnyStrategy): GraphRun {
  const all = [...strategies, strategy]
  const parsed = parseShow(
    JSON.stringify(
      glasshouse({
        songs: [
          {
            id: 'tide',
            title: 'Tide table',
            parts: [
              { id: 'lead', player: 'keys', lamps: ['fern', 'moss'], strategy: { kind: 'fragile' } },
              { id: 'other', player: 'keys', lamps: ['reed', 'sedge'], strategy: { kind: 'unison' } },
            ],
          },
        ],
      }),
    ),
    all,
  )
  if (!parsed.ok) throw new Error('the show is at fault')
  return new GraphRun(parsed.show, all)
}

const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]

test('a strategy that throws is reported, its lamps go dark, others play on, and its next note sounds', () => {
  const run = runWith(fragile())
  run.graph.play('keys', on(60), 1000)
  run.graph.advance(1000)
  expect(run.litLamps()).toEqual(['fern', 'reed', 'sedge'])
  run.graph.play('keys', on(99), 2000)
  run.graph.advance(2000)
  expect(run.litLamps()).toEqual(['reed', 'sedge'])
  expect(run.of('diagnostic').map(({ diagnostic }) => diagnostic)).toEqual([
    { level: 'fault', source: 'part lead', code: 'stage-failed', message: 'key 99 is too much' },
  ])
  run.graph.play('keys', off(60), 3000)
  run.graph.play('keys', on(62), 4000)
  run.graph.advance(4000)
  expect(run.litLamps()).toEqual(['fern', 'reed', 'sedge'])
  run.graph.play('keys', off(62), 5000)
  run.graph.play('keys', off(99), 5000)
  run.graph.advance(5000)
  expect(run.litLamps()).toEqual([])
})

test('one that throws even on all-off begins anew, without an endless round', () => {
  const run = runWith(fragile(['all-off']))
  run.graph.play('keys', on(60), 1000)
  run.graph.play('keys', on(99), 2000)
  run.graph.advance(2000)
  expect(run.litLamps()).toEqual(['reed', 'sedge'])
  expect(run.of('diagnostic')).toHaveLength(2)
  run.graph.play('keys', on(61), 3000)
  run.graph.advance(3000)
  expect(run.litLamps()).toEqual(['fern', 'reed', 'sedge'])
})

test('dark-all works while a strategy throws on everything', () => {
  const run = runWith(fragile(['note-off', 'note-release', 'all-off', 'refused']))
  run.graph.play('keys', on(60), 1000)
  run.graph.advance(1000)
  run.events.length = 0
  run.graph.darkAll(2000)
  expect(run.litLamps()).toEqual([])
  // The box hears of it before anything else.
  expect(run.events[0]).toMatchObject({ kind: 'bytes', at: 2000, output: 'wire' })
})

test('malformed bytes become a warning that says what is lost', () => {
  const run = runWith(fragile())
  run.graph.play('keys', [0xf4, 0x01], 1000)
  run.graph.play('keys', on(60), 2000)
  run.graph.advance(2000)
  const warnings = run.of('diagnostic').map(({ diagnostic }) => diagnostic)
  expect(warnings.length).toBeGreaterThan(0)
  expect(warnings.every(({ level, source }) => level === 'warning' && source === 'player keys')).toBe(true)
  expect(run.litLamps()).toContain('fern')
})
