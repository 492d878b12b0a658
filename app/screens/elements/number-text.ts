/** What a number may be. */
export interface NumberRange {
  readonly min: number
  readonly max: number
  /** More than this. */
  readonly above?: number | undefined
  readonly whole: boolean
  readonly optional: boolean
}

/** A number as people type it, with a point or a comma; null where it is none. */
export function readNumber(text: string): number | null {
  const plain = text.trim().replace('−', '-').replace(',', '.')
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain) ? Number(plain) : null
}

/** What is wrong with a typed number, and what was expected; empty where nothing is. */
export function numberFault(text: string, range: NumberRange): string {
  if (range.optional && text.trim() === '') return ''
  const value = readNumber(text)
  if (value !== null && isWithin(value, range)) return ''
  const found = text.trim() === '' ? 'nothing is entered' : `found ${text.trim()}`
  return `${found}; expected ${rangeText(range)}${range.optional ? ', or nothing' : ''}`
}

function isWithin(value: number, { min, max, above, whole }: NumberRange): boolean {
  if (whole && !Number.isInteger(value)) return false
  return value >= min && value <= max && (above === undefined || value > above)
}

export function rangeText({ min, max, above, whole }: NumberRange): string {
  const noun = whole ? 'a whole number' : 'a number'
  const low = above !== undefined ? `above ${above}` : Number.isFinite(min) ? `from ${min}` : ''
  const high = Number.isFinite(max) ? `${above === undefined && low ? 'to' : 'up to'} ${max}` : ''
  return [noun, low, low && high && above !== undefined ? 'and' : '', high].filter((word) => word).join(' ')
}

/** One step on, within the range, without the crumbs that binary fractions leave. */
export function stepped(from: number | null, by: number, { min, max, above }: NumberRange): number {
  const start = from ?? (Number.isFinite(min) ? min : 0)
  const next = Number((start + by).toFixed(6))
  const kept = Math.min(max, Math.max(min, next))
  return above !== undefined && kept <= above ? start : kept
}
