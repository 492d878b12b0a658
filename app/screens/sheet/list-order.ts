/** The list with the entry at `from` standing at `to`; the list itself where either is no place in it. */
export function moved<T>(list: readonly T[], from: number, to: number): readonly T[] {
  const entry = list[from]
  if (entry === undefined || to < 0 || to >= list.length || from === to) return list
  const rest = [...list.slice(0, from), ...list.slice(from + 1)]
  return [...rest.slice(0, to), entry, ...rest.slice(to)]
}
