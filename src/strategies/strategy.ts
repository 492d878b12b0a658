import type { LampId } from '../domain/ids.ts'
import type { Intent } from '../domain/intent.ts'
import type { PartEvent } from '../domain/part-event.ts'
import type { StrategyRules } from '../domain/strategy-rules.ts'
import type { Bpm, Micros } from '../domain/units.ts'

/** What a strategy may see of the rest of the song. */
export interface LampView {
  /** The part's lamps, in the part's order. */
  readonly lamps: readonly LampId[]
  readonly tempo: Bpm
  /** Whether the part may light its lamp number `index` now: no other part claims it or sounds on it. */
  usable(index: number): boolean
}

export interface StrategyStep<State> {
  readonly state: State
  readonly intents: readonly Intent[]
  /** Absolute time, later than now, of the next `wake` event; replaces the one asked for before. */
  readonly wake?: Micros | undefined
}

/** How a part's notes find lamps. State is JSON-safe and never changed in place. */
export interface Strategy<State, Options> extends StrategyRules<Options> {
  start(options: Options, lamps: readonly LampId[]): State
  step(state: State, event: PartEvent, view: LampView, now: Micros): StrategyStep<State>
}

/** A strategy with its types closed over: options are what its schema let through, state is what it made itself. */
export type AnyStrategy = Strategy<unknown, unknown>

export function registered<State, Options>(strategy: Strategy<State, Options>): AnyStrategy {
  const { check } = strategy
  return {
    kind: strategy.kind,
    about: strategy.about,
    options: strategy.options,
    start: (options, lamps) => strategy.start(options as Options, lamps),
    step: (state, event, view, now) => strategy.step(state as State, event, view, now),
    ...(check
      ? { check: (options: unknown, lamps: readonly LampId[]) => check(options as Options, lamps) }
      : {}),
  }
}
