/** What a serial port of the list is called in a show: its path, without who made it behind. */
export function serialPath(listed: string): string {
  return /^(.*?) \(.*\)$/.exec(listed)?.[1] ?? listed
}

export interface PortPlace {
  readonly place: number
  readonly name: string
}

/**
 * The places that the message of an ambiguous port offers: it ends in `0: Keybed 20:0, 2: Keybed 24:0`. Names may hold numbers and colons
 * themselves, so only what rises from the end of the question on is taken.
 */
export function offeredPlaces(message: string): PortPlace[] {
  const start = message.search(/(?:(?<=[.?] )|^)\d+: /)
  if (start < 0) return []
  return message
    .slice(start)
    .split(/, (?=\d+: )/)
    .flatMap((piece) => {
      const found = /^(\d+): (.*)$/.exec(piece)
      return found ? [{ place: Number(found[1]), name: found[2] ?? '' }] : []
    })
}

/** A port's state in a word. */
export const STATE_WORDS = {
  missing: 'not there',
  open: 'open',
  ready: 'ready',
  lost: 'lost',
  busy: 'busy',
  ambiguous: 'which one?',
  unavailable: 'cannot be used',
  cut: 'cut off',
} as const
