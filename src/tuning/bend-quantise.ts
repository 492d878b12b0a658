import { bendForHz, bentKeyToHz } from '../domain/bent-key.ts'
import { centsToBend } from '../domain/bend.ts'
import type { Drive } from '../domain/lamp-state.ts'
import { hzToMidiKey } from '../domain/pitch.ts'
import type { Hz, Key } from '../domain/units.ts'

export type BendDrive = Extract<Drive, { kind: 'bend' }>

export interface BentRate {
  readonly drive: BendDrive
  /** What key and bend sound together, 14 bits and all. */
  readonly realHz: Hz
}

/**
 * The nearest key 0..127 and the 14-bit bend (MIDI 1.0 Detailed Specification) for the rest; within half a bend step, that
 * is bendRange x 100 / 16384 cents. Below key 0 and above key 127 as far as the bend reaches, undefined beyond. Where the
 * range (semitones) is under half a key, as far as it goes: the cents tell.
 *
 * A rising `hz` gives a rising `realHz` where bendRange is a power of two. Other ranges do not divide a semitone into
 * whole steps, and half-way between two keys the result can fall by less than one step.
 */
export function quantiseToBend(hz: Hz, bendRange: number): BentRate | undefined {
  if (!(hz > 0) || !Number.isFinite(hz)) return undefined
  const exact = hzToMidiKey(hz)
  const nearest = Math.round(exact)
  const key = Math.min(127, Math.max(0, nearest))
  const reached = bendForHz(hz, key, bendRange)
  if (reached === undefined && key !== nearest) return undefined
  return bentRate(key, reached ?? centsToBend((exact - key) * 100, bendRange), bendRange)
}

/**
 * The same for a lamp whose `key` sounds already, so that a legato change is a bend and no new strike; undefined where
 * the bend does not reach.
 */
export function bendFrom(key: Key, hz: Hz, bendRange: number): BentRate | undefined {
  if (!(hz > 0) || !Number.isFinite(hz)) return undefined
  const bend = bendForHz(hz, key, bendRange)
  return bend === undefined ? undefined : bentRate(key, bend, bendRange)
}

function bentRate(key: Key, bend: number, bendRange: number): BentRate {
  return { drive: { kind: 'bend', key, bend }, realHz: bentKeyToHz(key, bend, bendRange) }
}
