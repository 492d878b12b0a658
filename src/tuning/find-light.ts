import { SEEN_STEADY_HZ } from '../domain/flash-guard.ts'
import type { Lit } from '../domain/lamp-state.ts'
import { hzToMidiKey, shiftByCents } from '../domain/pitch.ts'
import type { Lamp, Output } from '../domain/rig.ts'
import type { Duty, Hz } from '../domain/units.ts'
import { foldIntoRange } from './fold.ts'
import { quantise } from './quantise.ts'

/** The pitch a lamp is looked for with, in the octave that its range has. */
const FIND_HZ: Hz = 440
/** Little power, plainly seen. */
const FIND_DUTY: Duty = 0.1

/** What a lamp does to be found: steady to the eye, for no part and no note. Undefined where lamp or output cannot flash so fast. */
export function findLight(lamp: Lamp, output: Output): Lit | undefined {
  const folded = foldIntoRange(shiftByCents(FIND_HZ, lamp.trimCents), lamp.lowHz, lamp.highHz)
  const hz = folded && folded.hz >= SEEN_STEADY_HZ ? folded.hz : lamp.highHz
  const made = quantise(hz, output, lamp.slot)
  if (!made || made.realHz < SEEN_STEADY_HZ) return undefined
  return {
    on: true,
    part: '',
    player: '',
    note: 0,
    key: Math.round(hzToMidiKey(hz)),
    velocity: 64,
    hz,
    ...made,
    duty: Math.min(lamp.maxDuty, Math.max(lamp.minDuty, FIND_DUTY)),
    strike: true,
  }
}
