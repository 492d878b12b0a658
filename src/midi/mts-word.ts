import { hzToMidiKey, midiKeyToHz } from '../domain/pitch.ts'
import type { Hz } from '../domain/units.ts'

/**
 * A pitch as three bytes xx yy zz, here the 21-bit whole number they make: xx is a key of twelve equal steps at 440 Hz, yy zz what it lies above it in steps of
 * 100/16384 cent. MIDI Tuning Standard (MIDI 1.0 Detailed Specification; bytes from memory).
 */
export type MtsWord = number

/** 7F 7F 7F: the key stays as it is. */
export const NO_CHANGE: MtsWord = 0x1fffff
/** Steps to a semitone. */
const STEPS = 1 << 14

/** 8.175799 Hz to 13289.656616 Hz; `NO_CHANGE` is no pitch. */
export function wordToHz(word: MtsWord): Hz {
  return midiKeyToHz(word / STEPS)
}

/** Within half a step (0.00305 cent) of `hz`; undefined where no word is. */
export function hzToWord(hz: Hz): MtsWord | undefined {
  // No negative nought.
  const word = Math.round(hzToMidiKey(hz) * STEPS) + 0
  return word >= 0 && word < NO_CHANGE ? word : undefined
}

export function wordBytes(word: MtsWord): [number, number, number] {
  return [word >> 14, (word >> 7) & 0x7f, word & 0x7f]
}

/** Of bytes 0 to 127 each. */
export function bytesWord(xx: number, yy: number, zz: number): MtsWord {
  return (xx << 14) | (yy << 7) | zz
}
