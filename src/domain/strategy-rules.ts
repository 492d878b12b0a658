import type { LampId } from './ids.ts'
import type { Schema } from './schema.ts'

/** What a show file needs to know of a strategy: its name, its options, and what the options say about lamps. */
export interface StrategyRules<Options = never> {
  readonly kind: string
  /** What it does, in a line that a player chooses by. */
  readonly about: string
  /** Strict object of the options, without `kind`; every option has a default. */
  readonly options: Schema<Options>
  /** Whether it plays the song's patterns: the first, or the one that its option `pattern` names. */
  readonly playsPatterns?: true
  /** Faults that the schema alone cannot see, each with the option it is about; empty when all is well. */
  check?(options: Options, lamps: readonly LampId[]): readonly OptionFault[]
}

export interface OptionFault {
  readonly option: string
  readonly message: string
}

/** One of many strategies, where it does not matter which: its options pass unread from its schema to its check. */
export type AnyStrategyRules = StrategyRules<unknown>
