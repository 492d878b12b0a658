import type { Field, NamedField } from './form-model.ts'
import { startOf } from './form-start.ts'
import type { Json } from './json.ts'
import { isRecord, isSame } from './json.ts'

/**
 * A strategy's options after its part's lamps have changed: lists with an entry per lamp keep each entry with its lamp, lists of lamps lose those that are
 * gone. Only the options that change are in the answer.
 */
export function relisted(
  strategy: Readonly<Record<string, unknown>>,
  fields: readonly NamedField[],
  before: readonly string[],
  after: readonly string[],
): Record<string, Json> {
  const changed: Record<string, Json> = {}
  for (const { name, field, usual } of fields) {
    const value = strategy[name]
    const next = relistedValue(field, value, before, after, usual)
    if (next !== undefined && !isSame(next, value)) changed[name] = next
  }
  return changed
}

function relistedValue(
  field: Field,
  value: unknown,
  before: readonly string[],
  after: readonly string[],
  usual: Json | undefined,
): Json | undefined {
  switch (field.kind) {
    case 'list':
      return field.isPerLamp && Array.isArray(value)
        ? perLamp(field, value as Json[], before, after)
        : undefined
    case 'lamps': {
      if (!Array.isArray(value)) return undefined
      const lamps = value as string[]
      const kept = lamps.filter((lamp) => after.includes(lamp))
      if (kept.length === lamps.length) return undefined
      return kept.length >= field.least ? kept : (usual ?? [...after])
    }
    case 'variants': {
      for (const variant of field.variants) {
        const next = relistedValue(variant, value, before, after, usual)
        if (next !== undefined) return next
      }
      return undefined
    }
    case 'group': {
      if (!isRecord(value)) return undefined
      const inner = relisted(value, field.fields, before, after)
      return Object.keys(inner).length === 0 ? undefined : { ...(value as Record<string, Json>), ...inner }
    }
    default:
      return undefined
  }
}

/** A list that was shorter than the lamps stays so; one that had an entry for every lamp goes on to. */
function perLamp(
  { item, least }: Extract<Field, { kind: 'list' }>,
  list: readonly Json[],
  before: readonly string[],
  after: readonly string[],
): Json | undefined {
  if (list.length === 0) return undefined
  const had = new Map(before.slice(0, list.length).map((lamp, place) => [lamp, list[place] as Json]))
  const isFull = list.length >= before.length
  const last = isFull ? after.length : Math.max(least, after.findLastIndex((lamp) => had.has(lamp)) + 1)
  const next: Json[] = []
  for (const lamp of after.slice(0, last)) {
    next.push(had.get(lamp) ?? unused(item, [...had.values(), ...next], after))
  }
  return next
}

/** An entry for a lamp that has none yet: nothing where numbers go both ways, else after the highest there is. */
function unused(item: Field, taken: readonly Json[], lamps: readonly string[]): Json {
  if (item.kind !== 'number') return startOf(item, lamps)
  if (item.range.least !== undefined && item.range.least < 0) return startOf(item, lamps)
  const numbers = taken.filter((one) => typeof one === 'number')
  const next = Math.max(...numbers) + 1
  return item.range.most !== undefined && next > item.range.most ? startOf(item, lamps) : next
}
