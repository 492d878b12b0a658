import fc from 'fast-check'
import type { LampId } from '../../src/domain/ids.ts'
import type { AnyStrategy } from '../../src/strategies/strategy.ts'
import { HIGH_KEY, LOW_KEY, optionsFor } from './options-arbitrary.ts'
import { readyPatterns } from './ready-patterns.ts'
import type { RawShow } from './shows.ts'

export interface PatternSettings {
  /** Keys that pads are on. */
  readonly keys: readonly [low: number, high: number]
  /** What moves them. */
  readonly advance: readonly string[]
  /** The longest a step may sound, in steps. */
  readonly longestGate?: number | undefined
}

/** A song's patterns as they stand in a file, called `a`, `b` and so on, on these lamps. */
export function patternsArbitrary(
  lamps: readonly LampId[],
  settings: PatternSettings,
): fc.Arbitrary<RawShow[]> {
  return fc
    .array(patternArbitrary(lamps, settings), { minLength: 1, maxLength: 3 })
    .map((patterns) => patterns.map((pattern, index) => ({ id: 'abc'[index] ?? '', ...pattern })))
}

function patternArbitrary(
  lamps: readonly LampId[],
  { keys, advance, longestGate = 64 }: PatternSettings,
): fc.Arbitrary<RawShow> {
  const [low, high] = keys
  const gate = fc.constantFrom(...[0.01, 0.25, 0.5, 1, 2.5, 64].filter((one) => one <= longestGate))
  const swing = fc.constantFrom(0, 0, 1 / 3, 0.75)
  const struck = fc.record(
    {
      note: fc.integer({ min: 30, max: 90 }),
      duty: fc.constantFrom(0.1, 0.5, 1),
      gate,
      accent: fc.boolean(),
      chance: fc.constantFrom(0, 0.4, 1),
    },
    { requiredKeys: ['note'] },
  )
  const step = fc.oneof(fc.constantFrom(0, 'rest', null), fc.integer({ min: 1, max: 127 }), struck)
  const rows = fc
    .array(
      fc.record(
        {
          lamp: fc.constantFrom(...lamps),
          steps: fc.array(step, { minLength: 1, maxLength: 7 }),
          swing,
          muted: fc.boolean(),
        },
        { requiredKeys: ['lamp', 'steps'] },
      ),
      { minLength: 1, maxLength: 4 },
    )
    .map((some) => some.map((row, index) => ({ id: `row${index}`, ...row })))
  const act = fc.oneof(
    fc.constantFrom('advance', 'back', 'restart', 'stop', 'next-pattern', 'accent').map((what) => ({
      do: what,
    })),
    fc.constant({ do: 'mute-row', row: 'row0' }),
    fc.record({
      do: fc.constant('note'),
      lamp: fc.constantFrom(...lamps),
      note: fc.integer({ min: 30, max: 90 }),
    }),
  )
  const pads = fc.uniqueArray(
    fc.tuple(fc.integer({ min: low, max: high }), act).map(([key, what]): RawShow => ({ key, ...what })),
    { selector: ({ key }) => key, maxLength: 5 },
  )
  return fc.record(
    {
      rows,
      pads,
      advance: fc.constantFrom(...advance),
      division: fc.constantFrom('1/16', '1/8', '1/12'),
      swing,
      gate,
      gateMs: fc.constantFrom(1, 40, 300),
      accentTimes: fc.constantFrom(1, 2, 8),
    },
    { requiredKeys: ['rows', 'advance'] },
  ) as fc.Arbitrary<RawShow>
}

/** What a strategy may start with on these lamps: its valid options, and, where it plays patterns, patterns of a song. */
export function startsFor(strategy: AnyStrategy, lamps: readonly LampId[]): readonly unknown[] {
  const options = optionsFor(strategy, lamps)
  if (!strategy.prepare) return options
  const plain = [{ id: 'a', rows: [{ lamp: lamps[0] ?? '', steps: [60] }] }]
  const settings = { keys: [LOW_KEY, HIGH_KEY] as const, advance: ['hit', 'clock', 'both'] }
  const songs = fc.sample(patternsArbitrary(lamps, settings), { seed: 7, numRuns: options.length - 1 })
  return [plain, ...songs].map((patterns, index) => {
    const { pattern: _, ...others } = options[index] as { readonly pattern?: string }
    const last = patterns.at(-1)?.['id'] ?? ''
    // Every other one begins with its last pattern, the rest with the first.
    const chosen = index % 2 === 1 ? { ...others, pattern: last } : others
    return readyPatterns(strategy, chosen as RawShow, lamps, patterns)
  })
}
