/**
 * What may not follow a number at once, since it would be part of it: "5" must not be read out of "5/4/3", "5,5", "5e3", "5:4" or "5 / 4". Whatever else
 * follows is no business of ours.
 */
const NOT_MORE = String.raw`(?![\d./]|[,:\\^*+-]\d|[eE][+-]?\d|[ \t]+/[ \t]*\d)`

const WHOLE = new RegExp(String.raw`^-?\d+${NOT_MORE}`)
const RATIO = new RegExp(String.raw`^\d+(?:/\d+)?${NOT_MORE}`)
/** A point makes it a decimal; digits may be missing on one side of it. */
const POINTED = new RegExp(String.raw`^-?(?:\d+\.\d*|\.\d+)${NOT_MORE}`)

/** The whole number with which `text` begins; undefined where there is none. May be past what is exact. */
export function wholeAt(text: string): number | undefined {
  const found = WHOLE.exec(text.trimStart())
  return found ? Number(found[0]) : undefined
}

/** The whole number or the ratio with which `text` begins, as it is written. */
export function ratioAt(text: string): string | undefined {
  return RATIO.exec(text.trimStart())?.[0]
}

/** The decimal with a point with which `text` begins. */
export function pointedAt(text: string): number | undefined {
  const found = POINTED.exec(text.trimStart())
  // Never -0, which no JSON keeps.
  return found ? Number(found[0]) + 0 : undefined
}

/** A finite number in digits with a point, no exponent, such that reading it gives the same number. */
export function pointedText(value: number): string {
  const [digits = '', exponent] = Math.abs(value).toString().split('e')
  const sign = value < 0 ? '-' : ''
  if (exponent === undefined) return `${sign}${digits.includes('.') ? digits : `${digits}.0`}`
  const [whole = '', part = ''] = digits.split('.')
  const point = whole.length + Number(exponent)
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${whole}${part}`
  return `${sign}${(whole + part).padEnd(point, '0')}.0`
}
