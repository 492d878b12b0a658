import type { Pattern } from '../../../src/domain/pattern.ts'
import type { Part, Song } from '../../../src/domain/song.ts'

/** The strategy that plays patterns. */
export const STEPS = 'steps'

export function playsPatterns({ strategy }: Part): boolean {
  return strategy.kind === STEPS
}

/** The pattern that a part begins with; one that names none begins with the song's first. */
export function firstPatternOf(song: Song, part: Part): Pattern | undefined {
  if (!playsPatterns(part)) return undefined
  const named = part.strategy['pattern']
  return named === undefined ? song.patterns[0] : song.patterns.find(({ id }) => id === named)
}

/** Who plays a pattern: parts that begin with it, and parts whose pads may lead to it (`next-pattern`). */
export function partsOf(
  song: Song,
  pattern: Pattern,
): { readonly beginning: readonly Part[]; readonly coming: readonly Part[] } {
  const beginning = song.parts.filter((part) => firstPatternOf(song, part) === pattern)
  const coming = song.parts.filter(
    (part) => !beginning.includes(part) && patternsOf(song, part).includes(pattern),
  )
  return { beginning, coming }
}

/** The patterns that a part comes to, from the one it begins with round the song's list for as long as pads lead on. */
export function patternsOf(song: Song, part: Part): readonly Pattern[] {
  const reached: Pattern[] = []
  let next = firstPatternOf(song, part)
  while (next && !reached.includes(next)) {
    reached.push(next)
    if (!next.pads.some((pad) => pad.do === 'next-pattern')) break
    next = song.patterns[(song.patterns.indexOf(next) + 1) % song.patterns.length]
  }
  return reached
}
