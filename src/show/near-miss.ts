import { distance } from 'fastest-levenshtein'

/** Beyond this nobody mistypes a name; it also bounds the work on garbage. */
const LONGEST = 64

/** The candidate that `word` was probably meant to be: one slip in three letters at most; undefined when none is near. */
export function nearMiss(word: string, candidates: Iterable<string>): string | undefined {
  if (word.length > LONGEST) return undefined
  let best: string | undefined
  let least = Infinity
  for (const candidate of candidates) {
    const slips = slipsBetween(plain(word), plain(candidate))
    if (slips < least && slips * 3 <= Math.max(word.length, candidate.length)) {
      best = candidate
      least = slips
    }
  }
  return best
}

/** The hint of a fault, or undefined. */
export function didYouMean(word: unknown, candidates: Iterable<string>): string | undefined {
  const meant = typeof word === 'string' ? nearMiss(word, candidates) : undefined
  return meant === undefined ? undefined : `did you mean ${JSON.stringify(meant)}?`
}

/** Letters that changed places are one slip of the fingers, though two or more edits. */
function slipsBetween(a: string, b: string): number {
  const edits = distance(a, b)
  return edits > 1 && sorted(a) === sorted(b) ? 1 : edits
}

function sorted(word: string): string {
  return [...word].sort().join('')
}

/** `low_hz`, `Low-Hz` and `lowHz` are the same word to somebody who typed it from memory. */
function plain(word: string): string {
  return word.toLowerCase().replaceAll(/[\s_-]/g, '')
}
