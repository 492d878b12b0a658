import fc from 'fast-check'
import { expect, test } from 'vitest'
import { pitchCents } from '../../../src/domain/scale-pitch.ts'
import type { ScaleTuning } from '../../../src/domain/tuning-spec.ts'
import { scaleKeyToHz } from '../../../src/tuning/scale.ts'
import { ANY_SCALE, anyScale, USUAL_SCALE } from '../../support/arbitrary-scale.ts'
import { checkProperty } from '../../support/property.ts'

/** Octaves within which 2^x is a number of full precision (IEEE 754 double), a few left at either end. */
const LEAST = -1000
const MOST = 1000

/** Octaves above the 1/1, counted one repetition at a time; undefined: the map leaves the key out. */
function octavesOf({ map, pitches, refNote }: ScaleTuning, key: number): number | undefined {
  const last = pitches.at(-1)
  const period = last === undefined ? 0 : pitchCents(last)
  const ofDegree = (degree: number): number => {
    if (pitches.length === 0) return 0
    let [rest, cents] = [degree, 0]
    for (; rest < 0; rest += pitches.length) cents -= period
    for (; rest >= pitches.length; rest -= pitches.length) cents += period
    const within = rest === 0 ? 0 : pitchCents(pitches[rest - 1] ?? NaN)
    return (cents + within) / 1200
  }
  if (!map) return ofDegree(key - refNote)
  if (key < map.first || key > map.last) return undefined
  if (map.degrees.length === 0) return ofDegree(key - map.middle)
  const step = map.formalOctave === 0 ? period / 1200 : ofDegree(map.formalOctave)
  let [place, octaves] = [key - map.middle, 0]
  for (; place < 0; place += map.degrees.length) octaves -= step
  for (; place >= map.degrees.length; place -= map.degrees.length) octaves += step
  const degree = map.degrees[place]
  return typeof degree === 'number' ? octaves + ofDegree(degree) : undefined
}

/** What is wrong with the key; undefined: nothing. */
function trouble(tuning: ScaleTuning, key: number): string | undefined {
  const hz = scaleKeyToHz(tuning, key)
  const reference = octavesOf(tuning, tuning.refNote) ?? NaN
  const octaves = octavesOf(tuning, key)
  if (octaves === undefined) return hz === undefined ? undefined : `key ${key} is not mapped and sounds ${hz}`
  const expected = Math.log2(tuning.refHz) + octaves - reference
  if (hz === undefined) {
    const isPast = expected < LEAST || expected > MOST || Math.abs(octaves - reference) > MOST
    return isPast ? undefined : `key ${key} is mapped and has no pitch`
  }
  if (!(hz > 0 && Number.isFinite(hz))) return `key ${key} sounds ${hz}`
  // A long way is a sum of many terms; a rate below what is of full precision is as good as it can be.
  const isNear = Math.abs(Math.log2(hz) - expected) < 1e-9 * (1 + Math.abs(octaves) + Math.abs(reference))
  return isNear || expected < LEAST ? undefined : `key ${key} sounds ${hz}, not 2^${expected}`
}

test('every key that is mapped sounds what a count by hand says, and no other key sounds', () => {
  const keys = fc.array(fc.integer({ min: -60, max: 190 }), { minLength: 8, maxLength: 8 })
  checkProperty(
    'scale to Hz',
    fc.property(anyScale(USUAL_SCALE), keys, (tuning, keys) => {
      expect([tuning.refNote, ...keys].map((key) => trouble(tuning, key)).filter(Boolean)).toEqual([])
    }),
    2000,
  )
})

test('of all that a show may say no key sounds at nothing, at NaN or without end', () => {
  const keys = fc.array(fc.integer({ min: -200, max: 300 }), { minLength: 8, maxLength: 8 })
  checkProperty(
    'any scale to Hz',
    fc.property(anyScale(ANY_SCALE), keys, (tuning, keys) => {
      const hz = [...keys, tuning.refNote].map((key) => scaleKeyToHz(tuning, key))
      expect(hz.filter((one) => one !== undefined && !(one > 0 && Number.isFinite(one)))).toEqual([])
      expect(hz.at(-1)).toBe(tuning.refHz)
    }),
  )
})
