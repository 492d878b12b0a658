import type { LampId, PatternId, RowId } from '../domain/ids.ts'
import type { Pattern, PatternPad, PatternRow, PatternStep } from '../domain/pattern.ts'
import type { Part, Song, StrategySpec } from '../domain/song.ts'
import type { Beats, Duty, Key, Micros } from '../domain/units.ts'
import { msToMicros, parseDuration } from '../time/beats.ts'

export interface ReadyRow {
  readonly id: RowId
  /** Its place among the part's lamps; -1: the part has not got it. */
  readonly lamp: number
  /** Notes as they sound, transposed. */
  readonly steps: readonly PatternStep[]
  readonly swing: number
  readonly muted: boolean
}

export type ReadyPad =
  | { readonly do: 'advance' | 'back' | 'restart' | 'stop' | 'next-pattern' | 'accent' }
  | { readonly do: 'mute-row'; readonly row: number }
  | { readonly do: 'note'; readonly lamp: number; readonly note: Key; readonly duty?: Duty }

/** A pattern in what a part counts with. */
export interface ReadyPattern {
  readonly id: PatternId
  readonly advance: Pattern['advance']
  readonly division: Beats
  /** In steps. */
  readonly gate: number
  /** Of steps that hits strike; null: by the time between hits. */
  readonly hitGate: Micros | null
  readonly accentTimes: number
  readonly rows: readonly ReadyRow[]
  /** By the key as the part hands it on, transposed. */
  readonly pads: Readonly<Record<string, ReadyPad>>
}

/** All that a part needs of its song to play patterns. */
export interface ReadySteps {
  /** The song's, in its order. */
  readonly patterns: readonly ReadyPattern[]
  /** The one it begins with. */
  readonly first: number
  readonly starts: 'hit' | 'song'
  /** The part's duty where nothing moves it; null: something does. */
  readonly duty: Duty | null
}

/** Throws a RangeError where the song has no such pattern, which no valid show comes to. */
export function readySteps(
  { pattern, starts }: { readonly pattern?: PatternId | undefined; readonly starts: 'hit' | 'song' },
  song: Song,
  part: Part,
): ReadySteps {
  const first = firstPattern(song, pattern)
  if (first < 0) throw new RangeError(`song "${song.id}" has no pattern "${pattern ?? ''}"`)
  const { controller, velocity, base } = part.duty
  return {
    patterns: song.patterns.map((one) => readyPattern(one, part)),
    first,
    starts,
    duty: controller === undefined && velocity !== true ? base : null,
  }
}

/** Where in the song's patterns a part begins; -1: the song has no such pattern. */
export function firstPattern(song: Song, pattern: unknown): number {
  return pattern === undefined
    ? Math.min(0, song.patterns.length - 1)
    : song.patterns.findIndex(({ id }) => id === pattern)
}

/** The patterns that a part of these options comes to: the one it begins with, and those that pads lead to, in the order they come. */
export function patternsPlayed(song: Song, { pattern }: StrategySpec): readonly Pattern[] {
  return patternsInReach(song.patterns, firstPattern(song, pattern), ({ pads }) => pads)
}

/** The patterns that pads lead to from the first, itself included, in the order they come. */
export function patternsInReach<Any>(
  patterns: readonly Any[],
  first: number,
  padsOf: (pattern: Any) => readonly { readonly do: string }[],
): readonly Any[] {
  const reached: Any[] = []
  for (let step = 0; step < patterns.length; step++) {
    const pattern = patterns[(first + step) % patterns.length]
    if (pattern === undefined) break
    reached.push(pattern)
    if (!padsOf(pattern).some((pad) => pad.do === 'next-pattern')) break
  }
  return reached
}

function readyPattern(pattern: Pattern, part: Part): ReadyPattern {
  const { id, advance, division, gate, gateMs, accentTimes, swing } = pattern
  return {
    id,
    advance,
    division: parseDuration(division) ?? 0.25,
    gate,
    hitGate: gateMs === undefined ? null : Math.max(1, msToMicros(gateMs)),
    accentTimes,
    rows: pattern.rows.map((row) => readyRow(row, swing, part)),
    pads: Object.fromEntries(
      pattern.pads.map((pad) => [String(pad.key + part.transpose), readyPad(pad, pattern, part)]),
    ),
  }
}

function readyRow(row: PatternRow, swing: number, { lamps, transpose }: Part): ReadyRow {
  return {
    id: row.id,
    lamp: placeOf(lamps, row.lamp),
    steps: row.steps.map((step) => (step === 0 ? 0 : { ...step, note: step.note + transpose })),
    swing: row.swing ?? swing,
    muted: row.muted,
  }
}

function readyPad(pad: PatternPad, { rows }: Pattern, { lamps, transpose }: Part): ReadyPad {
  switch (pad.do) {
    case 'mute-row':
      return { do: 'mute-row', row: rows.findIndex(({ id }) => id === pad.row) }
    case 'note':
      return {
        do: 'note',
        lamp: placeOf(lamps, pad.lamp),
        note: pad.note + transpose,
        ...(pad.duty === undefined ? {} : { duty: pad.duty }),
      }
    default:
      return { do: pad.do }
  }
}

function placeOf(lamps: readonly LampId[], lamp: LampId): number {
  return lamps.indexOf(lamp)
}
