import fc from 'fast-check'
import { HIGH_KEY, LOW_KEY } from './options-arbitrary.ts'

/** A thing that happens to a part. Notes and lamps are picked by number out of those there are at the time. */
export type ScriptLine =
  | { readonly do: 'strike'; readonly key: number; readonly velocity: number; readonly duty: boolean }
  | { readonly do: 'release' | 'end' | 'end-again'; readonly pick: number }
  | { readonly do: 'rekey'; readonly pick: number; readonly up: boolean }
  | { readonly do: 'all-off' }
  | { readonly do: 'take' | 'give-back' | 'offer'; readonly lamp: number }
  /** The lamp is another part's already, word of it comes only after the next line. */
  | { readonly do: 'take-quietly'; readonly lamp: number }
  | { readonly do: 'refusing'; readonly lamp: number; readonly on: boolean; readonly offers: boolean }
  | { readonly do: 'tempo'; readonly tempo: number }
  | { readonly do: 'wait'; readonly micros: number }

const pick = fc.nat(11)
const lamp = fc.nat(5)

const line: fc.Arbitrary<ScriptLine> = fc.oneof(
  {
    weight: 10,
    arbitrary: fc.record({
      do: fc.constant('strike' as const),
      key: fc.integer({ min: LOW_KEY, max: HIGH_KEY }),
      velocity: fc.integer({ min: 1, max: 127 }),
      duty: fc.boolean(),
    }),
  },
  { weight: 6, arbitrary: fc.record({ do: fc.constant('end' as const), pick }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('release' as const), pick }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('end-again' as const), pick }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('rekey' as const), pick, up: fc.boolean() }) },
  { weight: 1, arbitrary: fc.constant({ do: 'all-off' as const }) },
  {
    weight: 3,
    arbitrary: fc.record({
      do: fc.constantFrom('take' as const, 'take-quietly' as const),
      lamp,
    }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ do: fc.constantFrom('give-back' as const, 'offer' as const), lamp }),
  },
  {
    weight: 3,
    arbitrary: fc.record({
      do: fc.constant('refusing' as const),
      lamp,
      on: fc.boolean(),
      offers: fc.boolean(),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('tempo' as const),
      tempo: fc.constantFrom(10, 47.5, 97.0625, 120, 311.1111, 1000),
    }),
  },
  {
    weight: 8,
    arbitrary: fc.record({
      do: fc.constant('wait' as const),
      micros: fc.oneof(fc.constantFrom(1, 20_000, 90_000, 125_000), fc.integer({ min: 0, max: 300_000 })),
    }),
  },
)

export const script: fc.Arbitrary<ScriptLine[]> = fc.array(line, { maxLength: 40 })
