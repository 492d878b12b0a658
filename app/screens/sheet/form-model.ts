import type { Json } from './json.ts'
import { isRecord } from './json.ts'

/** How a value is asked for. Each is made from a piece of JSON Schema; what none fits is asked for as text in JSON. */
export type Field =
  | { readonly kind: 'choice'; readonly choices: readonly Json[] }
  | {
      readonly kind: 'number'
      readonly range: NumberRange
      readonly isKey: boolean
      readonly example: number | undefined
    }
  | { readonly kind: 'switch' }
  | {
      readonly kind: 'text'
      readonly format: string | undefined
      readonly pattern: string | undefined
      readonly least: number
      readonly most: number | undefined
    }
  /** One of the song's patterns, by its id. */
  | { readonly kind: 'pattern' }
  /** One lamp of the part. */
  | { readonly kind: 'lamp' }
  /** Lamps of the part, in an order of their own. */
  | { readonly kind: 'lamps'; readonly least: number }
  | {
      readonly kind: 'list'
      readonly item: Field
      readonly least: number
      readonly most: number | undefined
      /** Entries belong to the part's lamps, in their order. */
      readonly isPerLamp: boolean
    }
  | { readonly kind: 'group'; readonly fields: readonly NamedField[] }
  /** One of several; which of them a value is, `fits` tells. */
  | { readonly kind: 'variants'; readonly variants: readonly Field[] }
  | { readonly kind: 'json' }

export interface NumberRange {
  readonly isWhole: boolean
  readonly least: number | undefined
  readonly most: number | undefined
  /** More than, less than. */
  readonly above: number | undefined
  readonly below: number | undefined
}

export interface NamedField {
  readonly name: string
  readonly field: Field
  /** A line about it; empty where the schema has none. */
  readonly about: string
  /** What stands where it is left out; undefined: nothing does. */
  readonly usual: Json | undefined
  readonly isRequired: boolean
}

/** The fields of an object's schema, in its order; empty where it is no object. */
export function fieldsOf(schema: unknown): NamedField[] {
  if (!isRecord(schema) || !isRecord(schema['properties'])) return []
  const required = listOf(schema['required'])
  return Object.entries(schema['properties']).map(([name, one]) => ({
    name,
    field: fieldOf(one),
    about: isRecord(one) ? (textOf(one['description']) ?? '') : '',
    usual: isRecord(one) ? (one['default'] as Json | undefined) : undefined,
    isRequired: required.includes(name),
  }))
}

/** Keywords that change what a value may be and that the forms do not know. */
const BEYOND = ['allOf', 'not', 'if', 'patternProperties', 'propertyNames', 'prefixItems', 'contains', '$ref']

export function fieldOf(schema: unknown): Field {
  if (!isRecord(schema) || BEYOND.some((word) => word in schema)) return { kind: 'json' }
  if ('const' in schema) return { kind: 'choice', choices: [schema['const'] as Json] }
  if (Array.isArray(schema['enum'])) return { kind: 'choice', choices: schema['enum'] as Json[] }
  const either = schema['anyOf'] ?? schema['oneOf']
  if (Array.isArray(either)) return variantsOf(either.map(fieldOf))
  switch (schema['type']) {
    case 'boolean':
      return { kind: 'switch' }
    case 'integer':
    case 'number':
      return {
        kind: 'number',
        range: rangeOf(schema),
        isKey: schema['format'] === 'key',
        example: numberOf(listOf(schema['examples'])[0]),
      }
    case 'string':
      return textField(schema)
    case 'array':
      return listField(schema)
    case 'object':
      return groupField(schema)
    default:
      return { kind: 'json' }
  }
}

/** Words that are chosen from, next to each other, are one choice; of two that cannot be told apart, JSON is asked for. */
function variantsOf(fields: readonly Field[]): Field {
  const choices = fields.flatMap((field) => (field.kind === 'choice' ? field.choices : []))
  const others = fields.filter((field) => field.kind !== 'choice')
  const variants: Field[] = [...(choices.length > 0 ? [{ kind: 'choice' as const, choices }] : []), ...others]
  const [only] = variants
  return variants.length === 1 && only ? only : { kind: 'variants', variants }
}

function rangeOf(schema: Readonly<Record<string, unknown>>): NumberRange {
  return {
    isWhole: schema['type'] === 'integer',
    least: limitOf(schema['minimum']),
    most: limitOf(schema['maximum']),
    above: limitOf(schema['exclusiveMinimum']),
    below: limitOf(schema['exclusiveMaximum']),
  }
}

/** Without the limits that only say "any whole number". */
function limitOf(limit: unknown): number | undefined {
  return typeof limit === 'number' && Math.abs(limit) < Number.MAX_SAFE_INTEGER ? limit : undefined
}

function textField(schema: Readonly<Record<string, unknown>>): Field {
  if (schema['format'] === 'lamp') return { kind: 'lamp' }
  if (schema['format'] === 'pattern') return { kind: 'pattern' }
  return {
    kind: 'text',
    format: textOf(schema['format']),
    pattern: textOf(schema['pattern']),
    least: numberOf(schema['minLength']) ?? 0,
    most: numberOf(schema['maxLength']),
  }
}

function listField(schema: Readonly<Record<string, unknown>>): Field {
  const item = fieldOf(schema['items'])
  const least = numberOf(schema['minItems']) ?? 0
  if (item.kind === 'lamp' && schema['perLamp'] !== true) return { kind: 'lamps', least }
  const most = numberOf(schema['maxItems'])
  return { kind: 'list', item, least, most, isPerLamp: schema['perLamp'] === true }
}

function groupField(schema: Readonly<Record<string, unknown>>): Field {
  // Fields that the schema does not name would have no place in the form.
  const isOpen = schema['additionalProperties'] !== undefined && schema['additionalProperties'] !== false
  const fields = fieldsOf(schema)
  return isOpen || fields.length === 0 ? { kind: 'json' } : { kind: 'group', fields }
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : []
}

function textOf(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined
}

function numberOf(value: unknown): number | undefined {
  return typeof value === 'number' ? value : undefined
}
