/** Builds Standard MIDI Files by hand, broken ones too. */
export function word(value: number, bytes: number): number[] {
  return Array.from({ length: bytes }, (_, i) => Math.floor(value / 256 ** (bytes - 1 - i)) % 256)
}

export function characters(text: string): number[] {
  return [...text].map((character) => character.charCodeAt(0))
}

export interface HeaderFields {
  readonly format?: number
  readonly tracks?: number
  readonly division?: number
  readonly length?: number
}

export function header({ format = 0, tracks = 1, division = 480, length = 6 }: HeaderFields = {}): number[] {
  return [
    ...characters('MThd'),
    ...word(length, 4),
    ...word(format, 2),
    ...word(tracks, 2),
    ...word(division, 2),
  ]
}

/** A track chunk; `length` when it shall lie. */
export function track(body: readonly number[], length: number = body.length): number[] {
  return [...characters('MTrk'), ...word(length, 4), ...body]
}

export const END = [0x00, 0xff, 0x2f, 0x00]
/** A quarter note at 480 ticks a beat: key 60, on at once, off after 480 (83 60) ticks. */
export const NOTE = [0x00, 0x90, 0x3c, 0x40, 0x83, 0x60, 0x80, 0x3c, 0x40]

export function tempo(microsPerBeat: number, delta: readonly number[] = [0]): number[] {
  return [...delta, 0xff, 0x51, 0x03, ...word(microsPerBeat, 3)]
}

export function file(...parts: readonly (readonly number[])[]): Uint8Array {
  return Uint8Array.from(parts.flat())
}
