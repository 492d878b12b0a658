const LONGEST = 40

/** What stands in the show, in few words: `found 3`, `found "fast"`, `found a list of 3`. */
export function foundValue(value: unknown): string {
  return `found ${quote(value)}`
}

/** A value as it would stand in the file, long text cut, whole lists and objects only named. */
export function quote(value: unknown): string {
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`
  if (typeof value === 'object' && value !== null) {
    return Object.keys(value).length === 0 ? 'an empty object' : 'an object'
  }
  if (value === Infinity || value === -Infinity) return 'a number too large to count with'
  const text = JSON.stringify(value) ?? 'nothing'
  return text.length > LONGEST ? `${text.slice(0, LONGEST)}...` : text
}

/** More would bury the message. */
const MOST_WORDS = 20

/** `"a"`, `"a" or "b"`, `one of "a", "b", "c"`. */
export function oneOf(words: readonly (string | number | boolean | null)[]): string {
  const texts = words.slice(0, MOST_WORDS).map((word) => JSON.stringify(word))
  if (texts.length < 3) return texts.join(' or ')
  const more = words.length - texts.length
  return `one of ${texts.join(', ')}${more > 0 ? ` and ${more} more` : ''}`
}
