/** An id that none of `taken` is: the words of `title` in small letters, with a number where that is taken. At most 64 characters, as ids are. */
export function newId(title: string, taken: readonly string[]): string {
  const words = title.toLowerCase().match(/[\p{L}\p{M}\p{N}]+/gu) ?? []
  const stem = words.join('-').slice(0, 56) || 'new'
  if (!taken.includes(stem)) return stem
  for (let count = 2; ; count++) {
    const id = `${stem}-${count}`
    if (!taken.includes(id)) return id
  }
}

/** What is wrong with an id, in words; empty: nothing. Ids name files and stand in commands. */
export function idFault(id: string, taken: readonly string[]): string {
  if (taken.includes(id)) return `“${id}” is taken; each needs another`
  return /^[\p{L}\p{M}\p{N}_-]+$/u.test(id) ? '' : 'expected letters, digits, “-” and “_”, without spaces'
}
