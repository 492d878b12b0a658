import type { ScalePitch } from './tuning-spec.ts'
import type { Cents } from './units.ts'

/** A ratio: a whole number, or two with a stroke between; neither 0. */
export const SCALE_PITCH_TEXT = /^0*[1-9]\d{0,14}(\/0*[1-9]\d{0,14})?$/

/** Cents above the 1/1. Throws a RangeError for text that is no ratio. */
export function pitchCents(pitch: ScalePitch): Cents {
  if (typeof pitch === 'number') return pitch
  if (!SCALE_PITCH_TEXT.test(pitch)) throw new RangeError(`"${pitch}" is not a ratio such as "3/2"`)
  const [over, under = '1'] = pitch.split('/')
  return 1200 * Math.log2(Number(over) / Number(under))
}
