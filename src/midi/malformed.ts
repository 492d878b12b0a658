/** Bytes that make no MIDI message: why, and how many bytes are lost by it. A diagnostic, never a throw. */
export interface Malformed {
  readonly type: 'malformed'
  readonly why: string
  readonly count: number
}

export function malformed(why: string, count: number): Malformed {
  return { type: 'malformed', why, count }
}

/** A byte as documents on MIDI print it: two hexadecimal digits. */
export function hexByte(byte: number): string {
  return byte.toString(16).toUpperCase().padStart(2, '0')
}
