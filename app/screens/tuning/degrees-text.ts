import { MOST_DEGREE, MOST_MAP_KEYS } from '../../../src/domain/scale-limits.ts'

/** Degrees of a key map as they are typed: whole numbers, `x` for a key that is left out, blanks or commas between them; or what is wrong. */
export function readDegrees(text: string): readonly (number | null)[] | { readonly fault: string } {
  const words = text.split(/[\s,;]+/).filter((word) => word !== '')
  const wrong = words.find((word) => !/^(x|[-\u2212]?\d{1,5})$/i.test(word))
  if (wrong !== undefined)
    return { fault: `found ${wrong}; expected degrees such as 0 2 4, and x for a key that is left out` }
  if (words.length > MOST_MAP_KEYS)
    return { fault: `found ${words.length} degrees; expected ${MOST_MAP_KEYS} at most` }
  const degrees = words.map((word) => (/^x$/i.test(word) ? null : Number(word.replace('\u2212', '-'))))
  const far = degrees.find((degree) => degree !== null && Math.abs(degree) > MOST_DEGREE)
  return far === undefined ? degrees : { fault: `found ${far}; expected at most ${MOST_DEGREE} either way` }
}

/** Such that it is read as the same degrees again. */
export function degreesText(degrees: readonly (number | null)[]): string {
  return degrees.map((degree) => degree ?? 'x').join(' ')
}
