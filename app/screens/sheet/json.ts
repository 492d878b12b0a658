/** What a show file may hold as a value. */
export type Json =
  string | number | boolean | null | readonly Json[] | { readonly [field: string]: Json | undefined }

export type JsonRecord = Readonly<Record<string, unknown>>

export function isRecord(value: unknown): value is JsonRecord {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

/** Whether two JSON values say the same; the order of fields does not matter. */
export function isSame(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true
  if (Array.isArray(one) && Array.isArray(other)) {
    return one.length === other.length && one.every((entry, place) => isSame(entry, other[place]))
  }
  if (!isRecord(one) || !isRecord(other)) return false
  const names = Object.keys(one)
  return (
    names.length === Object.keys(other).length &&
    names.every((name) => name in other && isSame(one[name], other[name]))
  )
}
