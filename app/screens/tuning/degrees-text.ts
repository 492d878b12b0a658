/** As the show has them. */
const MOST_DEGREES = 128
const FARTHEST = 10_000

/** Degrees of a key map as they are typed: whole numbers, `x` for a key that is left out, blanks or commas between them; or what is wrong. */
export function readDegrees(text: string): readonly (number | null)[] | { readonly fault: string } {
  const words = text.split(/[\s,;]+/).filter((word) => word !== '')
  const wrong = words.find((word) => !/^(x|[-\u2212]?\d{1,5})$/i.test(word))
  if (wrong !== undefined)
    return { fault: `found ${wrong}; expected degrees such as 0 2 4, and x for a key that is left out` }
  if (words.length > MOST_DEGREES)
    return { fault: `found ${words.length} degrees; expected ${MOST_DEGREES} at most` }
  const degrees = words.map((word) => (/^x$/i.test(word) ? null : Number(word.replace('\u2212', '-'))))
  const far = degrees.find((degree) => degree !== null && Math.abs(degree) > FARTHEST)
  return far === undefined ? degrees : { fault: `found ${far}; expected at most ${FARTHEST} either way` }
}

/** Such that it is read as the same degrees again. */
export function degreesText(degrees: readonly (number | null)[]): string {
  return degrees.map((degree) => degree ?? 'x').join(' ')
}
