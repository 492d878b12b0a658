import { oneOf } from './found.ts'
import type { JsonSchema } from './json-schema.ts'

/** What any of `schemas` would take, in words: `a whole number from 1 to 16`, `"note" or an object with "every"`. */
export function expectedText(schemas: readonly JsonSchema[]): string {
  const words = literals(schemas)
  const open = schemas.filter((schema) => literalsOf(schema).length === 0)
  const kinds = open.length > 1 ? literals(open.flatMap(kindOf)) : []
  const others = kinds.length > 0 ? [`an object with "kind" ${oneOf(kinds)}`] : open.map(describe)
  const texts = [...(words.length > 0 ? [oneOf(words)] : []), ...new Set(others)]
  return texts.length === 0 ? 'something else' : texts.join(', or ')
}

type Literal = string | number | boolean | null

/** Every fixed word that `schemas` name, once each. */
export function literals(schemas: readonly JsonSchema[]): Literal[] {
  return [...new Set(schemas.flatMap(literalsOf))]
}

function kindOf({ properties }: JsonSchema): JsonSchema[] {
  return typeof properties?.kind === 'object' ? [properties.kind] : []
}

function literalsOf(schema: JsonSchema): readonly Literal[] {
  return schema.const === undefined ? (schema.enum ?? []) : [schema.const]
}

function describe(schema: JsonSchema): string {
  switch (schema.type) {
    case 'integer':
      return `a whole number${range(schema)}`
    case 'number':
      return `a number${range(schema)}`
    case 'string':
      if (schema.format === 'date') return 'a day as year-month-day, such as "2026-11-25"'
      return `text${size(schema.minLength, schema.maxLength, 'character')}`
    case 'boolean':
      return 'true or false'
    case 'array':
      return list(schema)
    case 'object': {
      const needed = (schema.required ?? []).slice(0, 4).map((name) => JSON.stringify(name))
      return needed.length === 0 ? 'an object' : `an object with ${needed.join(', ')}`
    }
    default:
      return 'something else'
  }
}

function range(schema: JsonSchema): string {
  const { minimum, maximum, exclusiveMinimum, exclusiveMaximum } = schema
  const from = bound(minimum)
  const to = bound(maximum)
  const above = typeof exclusiveMinimum === 'number' ? exclusiveMinimum : undefined
  const below = typeof exclusiveMaximum === 'number' ? exclusiveMaximum : undefined
  if (from !== undefined && to !== undefined) return ` from ${from} to ${to}`
  const low = above !== undefined ? ` above ${above}` : from !== undefined ? ` of ${from} or more` : ''
  const high = below !== undefined ? ` below ${below}` : to !== undefined ? ` up to ${to}` : ''
  return low !== '' && high !== '' ? `${low} and${high}` : `${low}${high}`
}

/** Without the limits that only say "any whole number". */
function bound(limit: number | undefined): number | undefined {
  return limit === undefined || Math.abs(limit) >= Number.MAX_SAFE_INTEGER ? undefined : limit
}

function size(least: number | undefined, most: number | undefined, one: string): string {
  const from = least ?? 0
  if (most !== undefined) return from === most ? ` of exactly ${most}` : ` of ${from} to ${most} ${one}s`
  return from > 0 ? ` of at least ${from} ${one}${from === 1 ? '' : 's'}` : ''
}

function list(schema: JsonSchema): string {
  if (schema.prefixItems) return `a list of exactly ${schema.prefixItems.length}`
  const { items } = schema
  const each = typeof items === 'object' && !Array.isArray(items) ? expectedText([items]) : 'anything'
  return `a list${size(schema.minItems, schema.maxItems, 'item')}, each ${each}`
}
