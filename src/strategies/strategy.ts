import type { LampId, PatternId } from '../domain/ids.ts'
import type { Intent } from '../domain/intent.ts'
import type { PartEvent } from '../domain/part-event.ts'
import type { Part, Song } from '../domain/song.ts'
import type { StrategyRules } from '../domain/strategy-rules.ts'
import type { Bpm, Micros } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'

/** What a strategy may see of the rest of the song. */
export interface LampView {
  /** The part's lamps, in the part's order. */
  readonly lamps: readonly LampId[]
  /** Never 0; of a clock that is followed an estimate. */
  readonly tempo: Bpm
  /** The song's beats; tempo 0: they stand still. */
  readonly time: BeatClock
  /** Whether the part may light its lamp number `index` now: no other part claims it or sounds on it. */
  usable(index: number): boolean
  /** Whether what is told now is how things stand as the song begins, and nothing that is played; absent: never. */
  isBeginning?(): boolean
}

export interface StrategyStep<State> {
  readonly state: State
  readonly intents: readonly Intent[]
  /** Absolute time, later than now, of the next `wake` event; replaces the one asked for before. */
  readonly wake?: Micros | undefined
}

/** Where a part's patterns are, for whoever watches. */
export interface StepProgress {
  readonly pattern: PatternId
  /** Per row: the step it is at, from 0; -1 before its first. */
  readonly rows: readonly number[]
  /** Per row. */
  readonly muted: readonly boolean[]
}

/**
 * How a part's notes find lamps. State is JSON-safe and never changed in place. `Ready`: what it starts with, where that is more than its options.
 */
export interface Strategy<State, Options, Ready = Options> extends StrategyRules<Options> {
  /** Options with what they need of the song; JSON-safe. Absent: as they are. */
  prepare?(options: Options, song: Song, part: Part): Ready
  start(options: Ready, lamps: readonly LampId[]): State
  step(state: State, event: PartEvent, view: LampView, now: Micros): StrategyStep<State>
  /** The song's patterns were edited while it plays: goes on with those, where it was. `options`: as `prepare` gives them now. Absent: it plays none. */
  revise?(state: State, options: Ready, view: LampView, now: Micros): StrategyStep<State>
  /** Whether it wants a wake as the song begins; absent: no. */
  wakesFirst?(options: Ready): boolean
  /** Whether it may play on by itself once its notes have ended, until all-off; absent: no. */
  runsOn?(options: Ready): boolean
  /** The same object as long as nothing of it changes. */
  progress?(state: State): StepProgress
}

/** A strategy with its types closed over: options are what its schema let through, state is what it made itself. */
export type AnyStrategy = Strategy<unknown, unknown>

export function registered<State, Options, Ready>(strategy: Strategy<State, Options, Ready>): AnyStrategy {
  const { check, prepare, revise, wakesFirst, runsOn, progress } = strategy
  return {
    kind: strategy.kind,
    about: strategy.about,
    options: strategy.options,
    start: (options, lamps) => strategy.start(options as Ready, lamps),
    step: (state, event, view, now) => strategy.step(state as State, event, view, now),
    ...(strategy.playsPatterns ? { playsPatterns: true } : {}),
    ...(check
      ? { check: (options: unknown, lamps: readonly LampId[]) => check(options as Options, lamps) }
      : {}),
    ...(prepare
      ? { prepare: (options: unknown, song: Song, part: Part) => prepare(options as Options, song, part) }
      : {}),
    ...(revise
      ? {
          revise: (state: unknown, ready: unknown, view: LampView, now: Micros) =>
            revise(state as State, ready as Ready, view, now),
        }
      : {}),
    ...(wakesFirst ? { wakesFirst: (ready: unknown) => wakesFirst(ready as Ready) } : {}),
    ...(runsOn ? { runsOn: (ready: unknown) => runsOn(ready as Ready) } : {}),
    ...(progress ? { progress: (state: unknown) => progress(state as State) } : {}),
  }
}

/** What a part's strategy starts with. */
export function readyOptions(strategy: AnyStrategy, song: Song, part: Part): unknown {
  const { kind: _, ...options } = part.strategy
  return strategy.prepare ? strategy.prepare(options, song, part) : options
}
