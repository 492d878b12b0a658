import { z } from 'zod'
import type { StrategySpec } from '../domain/song.ts'
import type { AnyStrategyRules } from '../domain/strategy-rules.ts'

/**
 * A part's `strategy`: the options of one of `strategies`, told apart by `kind`.
 * Throws TypeError where a strategy's options are no object schema: a fault in the program, not in a show.
 */
export function strategySchema(strategies: readonly AnyStrategyRules[]): z.ZodType<StrategySpec> {
  const [first, ...rest] = strategies.map(withKind)
  if (first === undefined) throw new TypeError('a show schema needs at least one strategy')
  return z.discriminatedUnion('kind', [first, ...rest])
}

/** An object of which only `kind` is known before the strategy is. */
type KindAndOptions = z.ZodObject<{ kind: z.ZodLiteral<string> }, z.core.$loose>

function withKind({ kind, options }: AnyStrategyRules): KindAndOptions {
  if (!(options instanceof z.ZodObject)) {
    throw new TypeError(`the options of strategy "${kind}" are not a zod object`)
  }
  return options.safeExtend({ kind: z.literal(kind) })
}
