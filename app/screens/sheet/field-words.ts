import type { NamedField } from './form-model.ts'
import { isRecord, isSame } from './json.ts'

const UNITS: readonly (readonly [RegExp, string])[] = [
  [/Ms$/, 'ms'],
  [/Hz$/, 'Hz'],
  [/Cents$/, 'cents'],
]

/** `overlapMs` as a person reads it: "overlap", in "ms". */
export function nameWords(name: string): { readonly label: string; readonly unit: string } {
  const found = UNITS.find(([ending]) => ending.test(name))
  const stem = found ? name.replace(found[0], '') : name
  const label = stem.replace(/([a-z\d])([A-Z])/g, '$1 $2').toLowerCase()
  return { label, unit: found?.[1] ?? '' }
}

export function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1)
}

/** A value in words: `{ every: '1/4' }` is "every 1/4", lists are spoken entry by entry. */
export function valueWords(value: unknown): string {
  if (value === undefined) return 'left out'
  if (value === true) return 'yes'
  if (value === false) return 'no'
  if (typeof value === 'string') return value
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map(valueWords).join(', ')
  if (isRecord(value)) {
    return Object.entries(value)
      .filter(([, one]) => one !== undefined)
      .map(([name, one]) => namedWords(name, one))
      .join(', ')
  }
  return String(value)
}

function namedWords(name: string, value: unknown): string {
  const { label, unit } = nameWords(name)
  return [label, valueWords(value), typeof value === 'number' || Array.isArray(value) ? unit : '']
    .filter((word) => word !== '')
    .join(' ')
}

/** What a part's strategy does out of the usual, in a line: "travel: path pendulum, move every 1/4". */
export function strategyWords(
  strategy: Readonly<Record<string, unknown>>,
  fields: readonly NamedField[],
): string {
  const unusual = fields.flatMap(({ name, usual }) => {
    const value = strategy[name]
    return value === undefined || isSame(value, usual) ? [] : [namedWords(name, value)]
  })
  const kind = String(strategy['kind'])
  return unusual.length === 0 ? kind : `${kind}: ${unusual.join(', ')}`
}
