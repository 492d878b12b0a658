import type { PadCurve } from '../../../src/domain/pad-curve.ts'

export type CurvePoints = Exclude<PadCurve, string>

/** As the show file's schema has it. */
const MOST = 16

/** Where points of one's own begin: as struck. */
export const FIRST_POINTS: CurvePoints = [
  [1, 1],
  [64, 64],
  [127, 127],
]

/** `1 20, 64 90, 127 127`. */
export function pointsText(points: CurvePoints): string {
  return points.map((point) => point.join(' ')).join(', ')
}

/** The points of a text; undefined where it is none, or falls. */
export function readPoints(text: string): CurvePoints | undefined {
  const points = text.split(',').map((one): [number, number] => {
    const [struck = NaN, taken = NaN, ...more] = one.trim().split(/\s+/).map(Number)
    return more.length === 0 ? [struck, taken] : [NaN, NaN]
  })
  const isGood = points.every(([struck, taken], place) => {
    const before = points[place - 1]
    if (![struck, taken].every((one) => Number.isInteger(one) && one >= 1 && one <= 127)) return false
    return before === undefined || (struck > before[0] && taken >= before[1])
  })
  return isGood && points.length <= MOST ? points : undefined
}

/** What is wrong with a text; empty: nothing. */
export function pointsFault(text: string): string {
  return readPoints(text)
    ? ''
    : 'expected up to 16 pairs struck, taken, from 1 to 127 and rising, such as 1 20, 64 90, 127 127'
}
