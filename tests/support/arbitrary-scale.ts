import fc from 'fast-check'
import type { ScalePitch, ScaleTuning } from '../../src/domain/tuning-spec.ts'
import type { Scale } from '../../src/tuning/scale-file.ts'

type Keys = Pick<Scale, 'map' | 'refNote'>

/** How far scales may go: cents of a pitch, the size of a ratio's sides, of a degree and of the formal octave. */
export interface ScaleReach {
  readonly cents: number
  readonly side: number
  readonly degree: number
}

/** All that a show takes. */
export const ANY_SCALE: ScaleReach = { cents: 120_000, side: 999_999_999_999_999, degree: 10_000 }
/** What people play. */
export const USUAL_SCALE: ScaleReach = { cents: 2400, side: 64, degree: 40 }

const key = fc.integer({ min: 0, max: 127 })

/** A ratio as text, sides up to `most`; whole numbers as well. */
export function anyRatio(most: number): fc.Arbitrary<string> {
  const side = fc.oneof(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: most }))
  return fc.oneof(
    side.map(String),
    fc.tuple(side, side).map(([over, under]) => `${over}/${under}`),
  )
}

/** A scale with a map or without, whose reference key is mapped. */
export function anyScale(reach: ScaleReach): fc.Arbitrary<ScaleTuning> {
  // -0 is left out: JSON has none.
  const cents = fc.double({ min: -reach.cents, max: reach.cents, noNaN: true }).map((one) => one + 0)
  const pitch = fc.oneof<fc.Arbitrary<ScalePitch>[]>(cents, anyRatio(reach.side))
  return fc
    .record({
      pitches: fc.array(pitch, { maxLength: 24 }),
      keys: fc.oneof(
        mapped(reach.degree),
        key.map((refNote): Keys => ({ refNote })),
      ),
      name: fc.oneof(
        fc.string({ unit: 'grapheme', maxLength: 30 }),
        fc.string({ unit: 'binary', maxLength: 250 }),
      ),
      refHz: fc.double({ min: 0, minExcluded: true, max: 100_000, noNaN: true }),
    })
    .map(({ keys, ...scale }) => ({ id: 'any', kind: 'scale', ...scale, ...keys }))
}

function mapped(most: number): fc.Arbitrary<Keys> {
  const degree = fc.integer({ min: -most, max: most })
  const range = fc.tuple(key, key).map(([a, b]) => [Math.min(a, b), Math.max(a, b)] as const)
  return range.chain(([first, last]) => {
    const map = fc.record({
      middle: key,
      formalOctave: fc.integer({ min: 0, max: most }),
      degrees: fc.array(fc.option(degree), { maxLength: 20 }),
    })
    const refNote = fc.integer({ min: first, max: last })
    return fc.tuple(map, refNote, degree).map(([map, refNote, other]) => {
      const size = map.degrees.length
      const place = (((refNote - map.middle) % size) + size) % size
      const degrees = map.degrees.map((one, at) => (at === place ? (one ?? other) : one))
      return { map: { first, last, ...map, degrees }, refNote }
    })
  })
}
