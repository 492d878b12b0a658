/**
 * Why a MIDI port cannot be used:
 * - `busy`: the port is there, but the system will not open it (another program may hold it); worth trying again later;
 * - `gone`: the port is not there (any more), or is closed;
 * - `unsupported`: this system cannot do it at all (virtual ports on some);
 * - `unavailable`: MIDI as a whole cannot be used on this machine now.
 */
export type MidiErrorKind = 'busy' | 'gone' | 'unsupported' | 'unavailable'

/** The only thing that a `MidiSystem` throws. The message says what is wrong, where, and what to do. */
export class MidiError extends Error {
  readonly kind: MidiErrorKind

  constructor(kind: MidiErrorKind, message: string, cause?: unknown) {
    super(message, cause === undefined ? undefined : { cause })
    this.name = 'MidiError'
    this.kind = kind
  }
}

/** Whatever was thrown, as a `MidiError`; what is not one yet becomes `kind` with its own words after `what`. */
export function asMidiError(thrown: unknown, kind: MidiErrorKind, what: string): MidiError {
  if (thrown instanceof MidiError) return thrown
  const words = thrown instanceof Error ? thrown.message : String(thrown)
  return new MidiError(kind, `${what} (${words})`, thrown)
}
