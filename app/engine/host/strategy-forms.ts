import { z } from 'zod'
import type { StrategyForm } from '../../../src/contract/from-host.ts'
import type { AnyStrategyRules } from '../../../src/domain/strategy-rules.ts'

/** The strategies as screens know them: enough to tell a person about each and to draw a form of its options. */
export function strategyForms(strategies: readonly AnyStrategyRules[]): StrategyForm[] {
  return strategies.map(({ kind, about, options }) => ({
    kind,
    about,
    options: z.toJSONSchema(options, { io: 'input', unrepresentable: 'any' }),
  }))
}
