/** Whether two JSON-like values say the same; the order of fields does not matter, and a field that is undefined is as good as none. */
export function isSameData(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false
  if (Array.isArray(a) || Array.isArray(b)) {
    return (
      Array.isArray(a) &&
      Array.isArray(b) &&
      a.length === b.length &&
      a.every((one, place) => isSameData(one, b[place]))
    )
  }
  const one: Readonly<Record<string, unknown>> = { ...a }
  const other: Readonly<Record<string, unknown>> = { ...b }
  return [...new Set([...Object.keys(one), ...Object.keys(other)])].every((field) =>
    isSameData(one[field], other[field]),
  )
}
