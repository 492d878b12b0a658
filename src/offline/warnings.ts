const MOST = 1000

/** Distinct warnings in the order they first came, each with how often it came. */
export interface Warnings {
  add(text: string): void
  list(): readonly string[]
}

/** Keeps 1,000 different texts and counts the others, so that a bad take cannot fill the memory. */
export function createWarnings(): Warnings {
  const counts = new Map<string, number>()
  let others = 0
  return {
    add(text) {
      const count = counts.get(text)
      if (count === undefined && counts.size >= MOST) others++
      else counts.set(text, (count ?? 0) + 1)
    },
    list() {
      const texts = [...counts].map(([text, count]) => (count === 1 ? text : `${text} (${count} times)`))
      return others === 0 ? texts : [...texts, `${others} more warnings are not listed`]
    },
  }
}
