import type { Show } from '../domain/show.ts'
import { fieldRank } from './field-order.ts'

/** Up to here a list or an object stands on one line. */
const WIDTH = 110

/**
 * A show as the text of a show file: indented by two, small things on one line, fields in a fixed order, every
 * default written out. The same show gives the same text. Throws RangeError on a number that JSON cannot hold.
 */
export function formatShow(show: Show): string {
  return `${write(show, '', 0)}\n`
}

/** `used`: characters that stand before the value on its line. */
function write(value: unknown, indent: string, used: number): string {
  if (typeof value !== 'object' || value === null) return scalar(value)
  const line = flatText(value)
  if (indent !== '' && used + line.length <= WIDTH) return line
  const [open, close] = Array.isArray(value) ? ['[', ']'] : ['{', '}']
  const inner = `${indent}  `
  const lines = entries(value).map(
    ([name, one]) => `${inner}${name}${write(one, inner, inner.length + name.length + 1)}`,
  )
  return `${open}\n${lines.join(',\n')}\n${indent}${close}`
}

function flatText(value: unknown): string {
  if (typeof value !== 'object' || value === null) return scalar(value)
  const texts = entries(value).map(([name, one]) => name + flatText(one))
  if (Array.isArray(value)) return `[${texts.join(', ')}]`
  return texts.length === 0 ? '{}' : `{ ${texts.join(', ')} }`
}

/** What stands before each value, and the value; fields in order, absent ones left out. */
function entries(value: object): [string, unknown][] {
  if (Array.isArray(value)) return value.map((item: unknown) => ['', item])
  return Object.entries(value)
    .filter(([, one]) => one !== undefined)
    .sort(([a], [b]) => fieldRank(a) - fieldRank(b) || (a < b ? -1 : 1))
    .map(([name, one]) => [`${JSON.stringify(name)}: `, one])
}

function scalar(value: unknown): string {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new RangeError(`a show cannot hold the number ${value}`)
  }
  // JSON.stringify would lose the sign, and what is read back would not be equal.
  return Object.is(value, -0) ? '-0' : JSON.stringify(value)
}
