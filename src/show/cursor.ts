import { ID } from './field-values.ts'
import type { JsonPath } from './json-path.ts'

/** A value somewhere in a show that may be of any shape, and the way to it. */
export interface Cursor {
  readonly path: JsonPath
  readonly value: unknown
}

export function cursor(root: unknown): Cursor {
  return { path: [], value: root }
}

/** The field down the names; its value is undefined where there is none. */
export function field(from: Cursor, ...names: readonly string[]): Cursor {
  return names.reduce(({ path, value }, name) => {
    const has = typeof value === 'object' && value !== null && Object.hasOwn(value, name)
    return { path: [...path, name], value: has ? (value as Record<string, unknown>)[name] : undefined }
  }, from)
}

/** Each item of a list; none where it is no list. */
export function items(from: Cursor): Cursor[] {
  if (!Array.isArray(from.value)) return []
  return from.value.map((value: unknown, index) => ({ path: [...from.path, index], value }))
}

export function textOf({ value }: Cursor): string | undefined {
  return typeof value === 'string' ? value : undefined
}

export function numberOf({ value }: Cursor): number | undefined {
  return typeof value === 'number' ? value : undefined
}

/** The `id` of each item; undefined where there is none or one is no id, so that nothing is concluded from a broken list. */
export function idsOf(list: Cursor): string[] | undefined {
  const ids = items(list).map((item) => textOf(field(item, 'id')))
  return ids.length > 0 && ids.every((id) => id !== undefined && ID.test(id)) ? (ids as string[]) : undefined
}
