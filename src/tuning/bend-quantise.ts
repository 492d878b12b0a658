import { BEND_CENTRE, BEND_MAX } from '../domain/bend.ts'
import { bentKeyToHz } from '../domain/bent-key.ts'
import type { Drive } from '../domain/lamp-state.ts'
import { hzToMidiKey } from '../domain/pitch.ts'
import type { Hz, Key } from '../domain/units.ts'

export type BendDrive = Extract<Drive, { kind: 'bend' }>

export interface BentRate {
  readonly drive: BendDrive
  /** What key and bend sound together, 14 bits and all. */
  readonly realHz: Hz
}

/** How a receiver bends: semitones for a full bend, and how many bits of it, from the top, it goes by. */
export interface Bender {
  readonly bendRange: number
  readonly bendBits: number
}

/**
 * The nearest key 0..127 and the bend (MIDI 1.0 Detailed Specification) for the rest, in steps that the receiver can tell apart: within half such a step, that
 * is bendRange x 100 / 2^bendBits cents. Below key 0 and above key 127 as far as the bend reaches, undefined beyond. Where the
 * range (semitones) is under half a key, as far as it goes: the cents tell.
 *
 * A rising `hz` gives a rising `realHz` where bendRange is a power of two. Other ranges do not divide a semitone into
 * whole steps, and half-way between two keys the result can fall by less than one step.
 */
export function quantiseToBend(hz: Hz, bender: Bender): BentRate | undefined {
  if (!(hz > 0) || !Number.isFinite(hz)) return undefined
  const exact = hzToMidiKey(hz)
  const nearest = Math.round(exact)
  const key = Math.min(127, Math.max(0, nearest))
  const bend = nearestBend(exact - key, bender)
  if (key !== nearest && !isReached(bend, bender)) return undefined
  return bentRate(key, clamped(bend, bender), bender)
}

/**
 * The same for a lamp whose `key` sounds already, so that a legato change is a bend and no new strike; undefined where
 * the bend does not reach.
 */
export function bendFrom(key: Key, hz: Hz, bender: Bender): BentRate | undefined {
  if (!(hz > 0) || !Number.isFinite(hz)) return undefined
  const semitones = hzToMidiKey(hz) - key
  if (!(bender.bendRange > 0) && Math.abs(semitones) >= 1e-9) return undefined
  const bend = nearestBend(semitones, bender)
  return isReached(bend, bender) ? bentRate(key, bend, bender) : undefined
}

/** Within or beyond what 14 bits hold. */
function nearestBend(semitones: number, { bendRange, bendBits }: Bender): number {
  if (!(bendRange > 0)) return BEND_CENTRE
  const step = 2 ** (14 - bendBits)
  return BEND_CENTRE + step * Math.round(((semitones / bendRange) * BEND_CENTRE) / step)
}

function isReached(bend: number, bender: Bender): boolean {
  return bend >= 0 && bend <= highest(bender)
}

/** Full up is one step of the receiver's short of the range. */
function highest({ bendBits }: Bender): number {
  return BEND_MAX + 1 - 2 ** (14 - bendBits)
}

function clamped(bend: number, bender: Bender): number {
  return Math.min(highest(bender), Math.max(0, bend))
}

function bentRate(key: Key, bend: number, { bendRange }: Bender): BentRate {
  return { drive: { kind: 'bend', key, bend }, realHz: bentKeyToHz(key, bend, bendRange) }
}
