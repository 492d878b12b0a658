import { belowFundamental, pulseHarmonic } from '../../../src/domain/pulse-harmonics.ts'
import type { Duty } from '../../../src/domain/units.ts'

/** As many as are shown. */
export const PARTIALS = 16
/** Partials farther below the fundamental than this are called weak. */
const WEAK_DB = -30

export interface Partial {
  readonly n: number
  /** 0 to 2/pi, the light going from 0 to 1; 0 where it vanishes. */
  readonly size: number
  /** Decibels below the fundamental, 0 or less; -Infinity where it vanishes. */
  readonly below: number
}

/** The first partials of light with that duty; none where it is always on or always off. */
export function partialsOf(duty: Duty): Partial[] {
  return Array.from({ length: PARTIALS }, (_, index) => index + 1).flatMap((n) => {
    const below = belowFundamental(n, duty)
    return below === undefined ? [] : [{ n, size: Math.abs(pulseHarmonic(n, duty)), below }]
  })
}

/** What is missing from the tone, in a sentence. */
export function partialsWords(duty: Duty): string {
  const partials = partialsOf(duty)
  if (partials.length === 0) return `Light that is always ${duty === 0 ? 'off' : 'on'} has no tone.`
  const first = partials.find(({ size }) => size === 0)?.n
  if (first !== undefined) {
    return `Every ${ordinal(first)} partial vanishes at a duty of ${fraction(duty, first)}.`
  }
  const weak = partials.filter(({ below }) => below < WEAK_DB).map(({ n }) => n)
  if (weak.length === 0) return `None of the first ${PARTIALS} partials vanishes.`
  const which =
    weak.length === 1 ? `Partial ${weak[0]} nearly vanishes` : `Partials ${weak.join(', ')} nearly vanish`
  return `${which}: more than ${-WEAK_DB} dB below the first.`
}

/** `2/5`, of a duty whose n-th partial is the first to vanish. */
function fraction(duty: Duty, n: number): string {
  return `${Math.round(duty * n)}/${n}`
}

function ordinal(n: number): string {
  return n === 2 ? '2nd' : n === 3 ? '3rd' : `${n}th`
}
