/** What a serial port of the list is called in a show: its path, without who made it behind. */
export function serialPath(listed: string): string {
  return /^(.*?) \(.*\)$/.exec(listed)?.[1] ?? listed
}

export interface PortPlace {
  readonly place: number
  readonly name: string
}

/** The places that the message of an ambiguous port offers: it asks which one is the port, `"Keybed 20:0" (place 1 in the list) or …`. */
export function offeredPlaces(message: string): PortPlace[] {
  return [...message.matchAll(/"([^"]*)" \(place (\d+) in the list\)/g)].map(([, name = '', place]) => ({
    place: Number(place) - 1,
    name,
  }))
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
