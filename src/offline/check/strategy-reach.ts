import type { LampId } from '../../domain/ids.ts'
import type { Part, Song, StrategySpec } from '../../domain/song.ts'
import type { Cents, Key } from '../../domain/units.ts'
import { spreadAt } from '../../strategies/spread.ts'
import { patternsPlayed } from '../../strategies/steps-ready.ts'

/** What a strategy asks of one of its part's lamps: which pitch, and whether only one key. */
export interface Reach {
  readonly lamp: LampId
  readonly ratio: number
  readonly cents: Cents
  /** The only key the lamp answers to, after transposing; absent: every key of the part. */
  readonly key?: Key | undefined
  /** The notes that its steps and pads sound there, whatever is played, rising and before transposing; absent: it sounds what is played. */
  readonly notes?: readonly Key[] | undefined
}

/** The lamps of a part that its strategy can light; those beyond a list of partials or off a given way are left out. */
export function strategyReach(part: Part, song: Song): Reach[] {
  const { lamps, strategy } = part
  switch (strategy.kind) {
    case 'unison': {
      const detune = numbers(strategy, 'detuneCents')
      const spread = Number(strategy.spreadCents ?? 0)
      return lamps.map((lamp, index) => ({
        lamp,
        ratio: 1,
        cents: (detune?.[index] ?? 0) + spreadAt(spread, index, lamps.length),
      }))
    }
    case 'partials': {
      const ratios = numbers(strategy, 'ratios') ?? lamps.map((_, index) => index + 1)
      return lamps
        .slice(0, ratios.length)
        .map((lamp, index) => ({ lamp, ratio: ratios[index] ?? 1, cents: 0 }))
    }
    case 'chime': {
      const keys = numbers(strategy, 'notes') ?? []
      return lamps
        .slice(0, keys.length)
        .map((lamp, index) => ({ lamp, ratio: 1, cents: 0, key: keys[index] }))
    }
    case 'steps':
      return patternReach(part, song)
    default: {
      const path = pathOf(strategy)
      return lamps
        .filter((lamp) => path === undefined || path.includes(lamp))
        .map((lamp) => ({ lamp, ratio: 1, cents: 0 }))
    }
  }
}

function patternReach({ lamps, strategy }: Part, song: Song): Reach[] {
  const notes = new Map<LampId, Set<Key>>()
  const take = (lamp: LampId, note: Key): unknown =>
    lamps.includes(lamp) && notes.set(lamp, (notes.get(lamp) ?? new Set()).add(note))
  for (const { rows, pads } of patternsPlayed(song, strategy)) {
    for (const { lamp, steps } of rows)
      for (const step of steps) if (step !== 0 && step.chance !== 0) take(lamp, step.note)
    for (const pad of pads) if (pad.do === 'note') take(pad.lamp, pad.note)
  }
  return lamps.flatMap((lamp) => {
    const own = notes.get(lamp)
    return own ? [{ lamp, ratio: 1, cents: 0, notes: [...own].sort((a, b) => a - b) }] : []
  })
}

/** The lamps a `travel` visits, where it names them. */
export function pathOf({ kind, path }: StrategySpec): readonly unknown[] | undefined {
  return kind === 'travel' && Array.isArray(path) ? path : undefined
}

function numbers(strategy: StrategySpec, option: string): readonly number[] | undefined {
  const value = strategy[option]
  return Array.isArray(value) ? value.filter((item) => typeof item === 'number') : undefined
}
