import {
  RPN_BEND_RANGE,
  RPN_COARSE_TUNING,
  RPN_FINE_TUNING,
  RPN_TUNING_BANK,
  RPN_TUNING_PROGRAM,
} from './controllers.ts'

const MAX_14_BIT = 0x3fff
/** The lower half of a bend range is cents, so it runs over at 100. MIDI 1.0 Detailed Specification, RPN 0. */
const CENTS_PER_SEMITONE = 100
/** Parameters of which the upper half counts. */
const UPPER = [RPN_COARSE_TUNING, RPN_TUNING_PROGRAM, RPN_TUNING_BANK]

/**
 * What a registered parameter holds before anyone sets it; undefined where no standard says. Bend range 2 semitones,
 * tunings centred: General MIDI 1 and MIDI 1.0, from memory.
 */
export function initialParameterValue(registered: boolean, parameter: number): number | undefined {
  if (!registered) return undefined
  if (parameter === RPN_BEND_RANGE) return 2 << 7
  return parameter === RPN_FINE_TUNING || parameter === RPN_COARSE_TUNING ? 64 << 7 : undefined
}

/**
 * `value` after one data increment (`by` 1) or decrement (-1), held within 14 bits. A bend range moves by a cent, a
 * coarse tuning by a semitone, a tuning program or bank by one (their upper halves), every other parameter by one. MMA
 * RP-018, from memory.
 */
export function stepParameterValue(
  registered: boolean,
  parameter: number,
  value: number,
  by: 1 | -1,
): number {
  if (registered && UPPER.includes(parameter)) return clamp(value + by * 128, value)
  if (!registered || parameter !== RPN_BEND_RANGE) return clamp(value + by, value)
  const cents = (value >> 7) * CENTS_PER_SEMITONE + Math.min(value & 0x7f, CENTS_PER_SEMITONE - 1) + by
  const semitones = Math.floor(cents / CENTS_PER_SEMITONE)
  return clamp(semitones * 128 + (cents - semitones * CENTS_PER_SEMITONE), value)
}

function clamp(value: number, before: number): number {
  return value < 0 || value > MAX_14_BIT ? before : value
}
