import type { Field, NumberRange } from './form-model.ts'
import { isRecord, isSame } from './json.ts'

/** What is wrong with a value for a field, for a person; undefined where nothing is. The host has the last word. */
export function faultOf(field: Field, value: unknown): string | undefined {
  switch (field.kind) {
    case 'choice':
      return field.choices.some((one) => isSame(one, value)) ? undefined : 'Choose one of the list.'
    case 'switch':
      return typeof value === 'boolean' ? undefined : 'Say yes or no.'
    case 'number':
      return numberFault(field.range, value)
    case 'text':
      return textFault(field, value)
    case 'pattern':
      return typeof value === 'string' && value !== '' ? undefined : 'Choose a pattern.'
    case 'lamp':
      return typeof value === 'string' && value !== '' ? undefined : 'Choose a lamp.'
    case 'lamps':
      return listFault({ kind: 'lamp' }, field.least, undefined, value)
    case 'list':
      return listFault(field.item, field.least, field.most, value)
    case 'group':
      return groupFault(field, value)
    case 'variants':
      return field.variants.some((one) => fits(one, value)) ? undefined : 'None of the ways it can be said.'
    case 'json':
      return value === undefined ? 'Write a value in JSON.' : undefined
  }
}

export function fits(field: Field, value: unknown): boolean {
  return faultOf(field, value) === undefined
}

/** Which of the variants a value is; the first one where it is none. */
export function variantOf(variants: readonly Field[], value: unknown): number {
  const place = variants.findIndex((one) => fits(one, value))
  return Math.max(0, place)
}

/** "a whole number from 0 to 127" */
export function rangeWords({ isWhole, least, most, above, below }: NumberRange): string {
  const from = least !== undefined ? `from ${least}` : above !== undefined ? `above ${above}` : ''
  const to =
    most !== undefined
      ? least !== undefined
        ? `to ${most}`
        : `up to ${most}`
      : below !== undefined
        ? `below ${below}`
        : ''
  return [isWhole ? 'a whole number' : 'a number', from, to].filter((word) => word !== '').join(' ')
}

function numberFault(range: NumberRange, value: unknown): string | undefined {
  const { isWhole, least, most, above, below } = range
  const isIn =
    typeof value === 'number' &&
    Number.isFinite(value) &&
    (!isWhole || Number.isInteger(value)) &&
    (least === undefined || value >= least) &&
    (most === undefined || value <= most) &&
    (above === undefined || value > above) &&
    (below === undefined || value < below)
  return isIn ? undefined : `Expected ${rangeWords(range)}.`
}

function textFault(field: Extract<Field, { kind: 'text' }>, value: unknown): string | undefined {
  if (typeof value !== 'string') return 'Expected text.'
  if (field.pattern !== undefined && !new RegExp(field.pattern, 'u').test(value)) {
    return field.format === 'note-value'
      ? 'Expected a note value such as 1/16 or 3/8.'
      : `Expected text like ${field.pattern}.`
  }
  if (value.length < field.least) return `Expected at least ${counted(field.least, 'character')}.`
  if (field.most !== undefined && value.length > field.most) {
    return `Expected at most ${counted(field.most, 'character')}.`
  }
  return undefined
}

function listFault(item: Field, least: number, most: number | undefined, value: unknown): string | undefined {
  if (!Array.isArray(value)) return 'Expected a list.'
  if (value.length < least) return `Expected at least ${counted(least, 'entry')}.`
  if (most !== undefined && value.length > most) return `Expected at most ${counted(most, 'entry')}.`
  const place = value.findIndex((one) => !fits(item, one))
  return place < 0 ? undefined : `Entry ${place + 1}: ${faultOf(item, value[place])}`
}

function groupFault(field: Extract<Field, { kind: 'group' }>, value: unknown): string | undefined {
  if (!isRecord(value)) return 'Expected several values.'
  const names = field.fields.map(({ name }) => name)
  const stray = Object.keys(value).find((name) => !names.includes(name))
  if (stray !== undefined) return `“${stray}” is not one of its values.`
  for (const { name, field: one, isRequired } of field.fields) {
    if (value[name] === undefined) {
      if (isRequired) return `“${name}” is missing.`
    } else {
      const fault = faultOf(one, value[name])
      if (fault !== undefined) return `${name}: ${fault}`
    }
  }
  return undefined
}

function counted(count: number, thing: string): string {
  return `${count} ${count === 1 ? thing : thing === 'entry' ? 'entries' : `${thing}s`}`
}
