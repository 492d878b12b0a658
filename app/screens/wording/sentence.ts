/** Words as a sentence: a capital first, one full stop last. */
export function sentence(words: string): string {
  const bare = words.trim().replace(/\.$/, '')
  return `${bare.charAt(0).toUpperCase()}${bare.slice(1)}${/[!?]$/.test(bare) ? '' : '.'}`
}
