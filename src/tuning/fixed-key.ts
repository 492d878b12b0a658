import { BEND_CENTRE } from '../domain/bend.ts'
import { midiKeyToHz } from '../domain/pitch.ts'
import type { Key } from '../domain/units.ts'
import type { BentRate } from './bend-quantise.ts'

/** A lamp that is one key of a MIDI output, whatever is asked of it. Undefined where that key is not in 0..127. */
export function fixedKey(firstNote: Key, slot: number): BentRate | undefined {
  const key = firstNote + slot
  if (key < 0 || key > 127) return undefined
  return { drive: { kind: 'bend', key, bend: BEND_CENTRE }, realHz: midiKeyToHz(key) }
}
