import type { Cents, Hz, Key } from './units.ts'

/** How far `hz` is above `reference`, in cents: 1200 log2(hz / reference). */
export function centsBetween(hz: Hz, reference: Hz): Cents {
  return 1200 * Math.log2(hz / reference)
}

/** `hz` moved by `cents`. */
export function shiftByCents(hz: Hz, cents: Cents): Hz {
  return cents === 0 ? hz : hz * 2 ** (cents / 1200)
}

/** Twelve equal steps an octave, key 69 = 440 Hz: the pitch a MIDI receiver gives a key. */
export function midiKeyToHz(key: Key): Hz {
  return 440 * 2 ** ((key - 69) / 12)
}

/** The inverse of `midiKeyToHz`; fractions of a key. */
export function hzToMidiKey(hz: Hz): Key {
  return 69 + 12 * Math.log2(hz / 440)
}
