const NAMES = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'] as const

/**
 * What a key is called: key 60 is C4, middle C (the American Standard pitch names), key 0 is C-1. A key between two keys, as retuned parts may name one, is
 * called after the nearer.
 */
export function noteName(key: number): string {
  const nearest = Math.round(key)
  const name = NAMES[((nearest % 12) + 12) % 12]
  return `${name}${Math.floor(nearest / 12) - 1}`.replace('-', '\u2212')
}
