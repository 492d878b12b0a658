/** "fern, moss and reed"; of more than `most`, the first ones and how many there are besides. */
export function listed(names: readonly string[], most = 6): string {
  if (names.length > most) return `${names.slice(0, most).join(', ')} and ${names.length - most} more`
  const last = names.at(-1) ?? ''
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`
}

/** "lamp fern", "lamps fern and moss". */
export function lampsNamed(ids: readonly string[], most?: number): string {
  return `${ids.length === 1 ? 'lamp' : 'lamps'} ${listed(ids, most)}`
}

/** "1 key", "2 keys"; `plural`: where it is not the noun with an s. */
export function counted(count: number, noun: string, plural = `${noun}s`): string {
  return `${count} ${count === 1 ? noun : plural}`
}

/** At most `digits` significant digits, no trailing noughts. */
export function figure(value: number, digits = 4): string {
  return String(Number(value.toPrecision(digits)))
}
