import type { LampId, PatternId, RowId } from './ids.ts'
import type { Duty, Key } from './units.ts'

/** What a row strikes when it comes to this step; 0: a rest. */
export type PatternStep = 0 | StruckStep

export interface StruckStep {
  /** The key it sounds; the part's transposition moves it. */
  readonly note: Key
  /** Absent: as the part gives it. */
  readonly duty?: Duty | undefined
  /** How long it sounds, in steps; absent: as the pattern says. */
  readonly gate?: number | undefined
  /** Absent: not accented. */
  readonly accent?: boolean | undefined
  /** How likely it is struck, 0 to 1; absent: always. */
  readonly chance?: number | undefined
}

/** A lamp's line of steps, gone through again and again; rows of one pattern may differ in length. */
export interface PatternRow {
  /** By which pads name it; where the show gives none, the lamp's. */
  readonly id: RowId
  readonly lamp: LampId
  readonly steps: readonly PatternStep[]
  /** In place of the pattern's. */
  readonly swing?: number | undefined
  /** Counts, but strikes nothing until a pad lets it. */
  readonly muted: boolean
}

/** What a pad does besides, or in place of, moving the pattern. Keys as they are played. */
export type PatternPad =
  | {
      readonly key: Key
      readonly do: 'advance' | 'back' | 'restart' | 'stop' | 'next-pattern' | 'accent'
    }
  | { readonly key: Key; readonly do: 'mute-row'; readonly row: RowId }
  /** Lights a lamp for as long as the hit lasts. */
  | {
      readonly key: Key
      readonly do: 'note'
      readonly lamp: LampId
      readonly note: Key
      readonly duty?: Duty | undefined
    }

export interface Pattern {
  readonly id: PatternId
  readonly name: string
  /** What moves every row on by a step: hits, the song's clock, or both. */
  readonly advance: 'hit' | 'clock' | 'both'
  /** The clock's step, a note value at the song's tempo. */
  readonly division: string
  /** How much of a step every second one is late, 0 to 0.75, where the clock moves it. */
  readonly swing: number
  /** How long a step sounds, in steps. */
  readonly gate: number
  /** How long a step sounds that a hit struck; absent: `gate` of the time between the last two hits. */
  readonly gateMs?: number | undefined
  /** What an accent multiplies velocity and duty by. */
  readonly accentTimes: number
  readonly rows: readonly PatternRow[]
  readonly pads: readonly PatternPad[]
}
