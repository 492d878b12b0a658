import type { Micros } from './units.ts'

export interface Step<State, Out> {
  readonly state: State
  readonly out: readonly Out[]
  /** Absolute time at which the stage wants a `wake`; absent: not at all. Replaces the one asked for before. */
  readonly wake?: Micros | undefined
}

/** Data in, data out. State is JSON-safe; time comes from outside; `step` never changes the state it is given. */
export interface Stage<Config, State, In, Out> {
  readonly name: string
  start(config: Config): State
  step(state: State, event: In, now: Micros): Step<State, Out>
}

/** The event a stage gets at the time it asked for. */
export const WAKE = { kind: 'wake' } as const
export type Wake = typeof WAKE
