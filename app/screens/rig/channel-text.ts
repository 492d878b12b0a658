/** `1 to 4, 10`: runs of three or more with "to". */
export function channelText(channels: readonly number[]): string {
  const sorted = [...new Set(channels)].toSorted((a, b) => a - b)
  if (sorted.length === 16) return 'all'
  const runs: number[][] = []
  for (const channel of sorted) {
    const run = runs.at(-1)
    if (run && run.at(-1) === channel - 1) run.push(channel)
    else runs.push([channel])
  }
  return runs.map((run) => (run.length > 2 ? `${run[0]} to ${run.at(-1)}` : run.join(', '))).join(', ')
}

/** The channels that a text names, in order: `1, 2`, `1-4`, `1 to 4, 10`, `all`; null where it is none of these or one is not from 1 to 16. */
export function readChannels(text: string): number[] | null {
  if (/^\s*all\s*$/i.test(text)) return Array.from({ length: 16 }, (_, index) => index + 1)
  const found = new Set<number>()
  for (const piece of text.trim().split(/\s*,\s*|(?<=\d)\s+(?=\d)/)) {
    const match = /^(\d+)(?:\s*(?:-|–|to)\s*(\d+))?$/.exec(piece)
    if (!match) return null
    const from = Number(match[1])
    const to = Number(match[2] ?? match[1])
    if (from < 1 || to > 16 || from > to) return null
    for (let channel = from; channel <= to; channel++) found.add(channel)
  }
  return [...found].toSorted((a, b) => a - b)
}

export function channelFault(text: string): string {
  if (readChannels(text) !== null) return ''
  return `found "${text}"; expected channels from 1 to 16, such as "1, 2", "1 to 4" or "all"`
}
