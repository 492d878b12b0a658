import type { Part, Song } from '../../../src/domain/song.ts'

/** How a part goes over its lamps in time, for a plate in the Steps room. */
export interface Way {
  /** Ids of lamps, in the order they are come to; a round is gone through again and again. */
  readonly round: readonly string[]
  /** Each a sentence. */
  readonly words: readonly string[]
}

/** The way of a part whose strategy moves in time; undefined for any other. */
export function wayOf(part: Part, song: Song): Way | undefined {
  switch (part.strategy.kind) {
    case 'travel':
      return travelWay(part, song)
    case 'canon':
      return canonWay(part, song)
    default:
      return undefined
  }
}

function travelWay({ strategy, lamps }: Part, { tempo }: Song): Way {
  const { path, move, width, overlapMs } = strategy
  const covers = Number(width ?? 1)
  const overlap = Number(overlapMs ?? 0)
  return {
    round: Array.isArray(path) ? (path as string[]) : roundOf(String(path), lamps),
    words: [
      path === 'shuffle'
        ? 'Goes over its lamps in an order drawn anew each round.'
        : Array.isArray(path)
          ? 'Goes its own way over its lamps.'
          : `Goes ${String(path)} over its lamps.`,
      moveWords(move, tempo),
      covers === 1 ? 'Covers one lamp at a time.' : `Covers ${covers} lamps at once.`,
      overlap === 0
        ? 'A lamp that is left goes dark at once.'
        : `A lamp that is left sounds on for ${overlap} ms.`,
    ],
  }
}

/** The lamps in the order that a named way comes to them; a shuffled one has none, and is told in the part's. */
export function roundOf<T>(path: string, lamps: readonly T[]): readonly T[] {
  switch (path) {
    case 'backward':
      return lamps.toReversed()
    case 'pendulum':
      return [...lamps, ...lamps.slice(1, -1).toReversed()]
    case 'inward':
      return fromOutside(lamps)
    case 'outward':
      return fromOutside(lamps).toReversed()
    default:
      return lamps
  }
}

function fromOutside<T>(lamps: readonly T[]): T[] {
  const rest = [...lamps]
  const round: T[] = []
  while (rest.length > 0) {
    const next = round.length % 2 === 0 ? rest.shift() : rest.pop()
    if (next !== undefined) round.push(next)
  }
  return round
}

function moveWords(move: unknown, tempo: number): string {
  if (typeof move === 'object' && move !== null) {
    if ('every' in move) return `Moves every ${noteValueWords(String(move.every), tempo)}.`
    if ('everyMs' in move) return `Moves every ${String(move.everyMs)} ms, whatever the tempo.`
  }
  return 'Moves with each new note.'
}

function canonWay({ strategy, lamps }: Part, { tempo }: Song): Way {
  const { delay, delayMs } = strategy
  const ms = typeof delayMs === 'number' ? delayMs : noteValueMs(String(delay), tempo)
  const each = typeof delayMs === 'number' ? `${delayMs} ms` : noteValueWords(String(delay), tempo)
  const last = (lamps.length - 1) * ms
  return {
    round: lamps,
    words: [
      `Each lamp repeats the one before it ${each} later.`,
      lamps.length > 1 ? `The last is ${rounded(last)} ms behind the first.` : 'There is no second lamp.',
    ],
  }
}

/** "1/8, 309.1 ms at this tempo" */
function noteValueWords(value: string, tempo: number): string {
  return `${value}, ${rounded(noteValueMs(value, tempo))} ms at this tempo`
}

/** A beat is a quarter of a whole note. */
function noteValueMs(value: string, tempo: number): number {
  const [count = '', parts = ''] = value.split('/')
  return ((4 * Number(count)) / Number(parts)) * (60_000 / tempo)
}

function rounded(ms: number): string {
  return Number(ms.toFixed(1)).toString()
}
