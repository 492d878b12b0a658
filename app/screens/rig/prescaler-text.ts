/** Whole numbers from 1 to 65,535, rising, with commas or spaces between; null where the text is something else. */
export function readPrescalers(text: string): number[] | null {
  const numbers = text
    .trim()
    .split(/\s*,\s*|\s+/)
    .map((piece) => (/^\d{1,5}$/.test(piece) ? Number(piece) : 0))
  const rises = numbers.every((value, place) => place === 0 || value > (numbers[place - 1] ?? 0))
  return rises && numbers.every((value) => value >= 1 && value <= 65_535) && numbers.length <= 255
    ? numbers
    : null
}

export function prescalerFault(text: string): string {
  if (readPrescalers(text) !== null) return ''
  return `found "${text}"; expected whole numbers from 1 to 65535 in rising order, such as "1, 8, 64"`
}
