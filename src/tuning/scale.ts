import { pitchCents } from '../domain/scale-pitch.ts'
import type { ScaleTuning } from '../domain/tuning-spec.ts'
import type { Cents, Hz, Key } from '../domain/units.ts'

/** What a scale's keys need worked out once. */
interface Worked {
  /** Cents of each degree within one repetition, from 0. */
  readonly degrees: readonly Cents[]
  /** The scale's last pitch. */
  readonly period: Cents
  /** Where the reference key lies; undefined: it is not mapped. */
  readonly reference: Cents | undefined
}

const worked = new WeakMap<ScaleTuning, Worked>()

/**
 * What `key` sounds: degree n + i of a scale with n pitches lies one period, its last pitch, above degree i; in a scale of no pitches every degree is the 1/1.
 * Undefined for a key that is not mapped, for all keys where the reference is not, and where the pitch is past what a number holds.
 */
export function scaleKeyToHz(tuning: ScaleTuning, key: Key): Hz | undefined {
  const known = worked.get(tuning) ?? work(tuning)
  const cents = keyCents(tuning, known, key)
  if (cents === undefined || known.reference === undefined) return undefined
  const hz = tuning.refHz * 2 ** ((cents - known.reference) / 1200)
  return Number.isFinite(hz) && hz > 0 ? hz : undefined
}

/** Cents of `key` above the 1/1: that of the mapping's middle key, or of the reference key where there is no mapping. Undefined for a key that is not mapped. */
export function scaleKeyCents(tuning: ScaleTuning, key: Key): Cents | undefined {
  return keyCents(tuning, worked.get(tuning) ?? work(tuning), key)
}

function work(tuning: ScaleTuning): Worked {
  const cents = tuning.pitches.map(pitchCents)
  const period = cents.at(-1) ?? 0
  const known = { degrees: [0, ...cents.slice(0, -1)], period, reference: undefined }
  const whole = { ...known, reference: keyCents(tuning, known, tuning.refNote) }
  worked.set(tuning, whole)
  return whole
}

/** Cents above the 1/1 that the mapping has at its middle key; without a mapping, at the reference key. */
function keyCents({ map, refNote }: ScaleTuning, known: Worked, key: Key): Cents | undefined {
  if (!map) return degreeCents(known, key - refNote)
  if (key < map.first || key > map.last) return undefined
  const size = map.degrees.length
  if (size === 0) return degreeCents(known, key - map.middle)
  const repetition = Math.floor((key - map.middle) / size)
  const degree = map.degrees[key - map.middle - repetition * size]
  if (degree === undefined || degree === null) return undefined
  return degreeCents(known, degree) + repetition * repetitionCents(known, map.formalOctave)
}

/** A pattern that repeats at no distance would be of no use: a formal octave of 0 stands for the scale's last degree. */
function repetitionCents(known: Worked, formalOctave: number): Cents {
  return formalOctave === 0 ? known.period : degreeCents(known, formalOctave)
}

function degreeCents({ degrees, period }: Worked, degree: number): Cents {
  const repetition = Math.floor(degree / degrees.length)
  return repetition * period + (degrees[degree - repetition * degrees.length] ?? 0)
}
