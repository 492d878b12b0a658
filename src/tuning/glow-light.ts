import type { Lamp, Output } from '../domain/rig.ts'
import type { Hz } from '../domain/units.ts'
import type { Quantised } from './quantise.ts'
import { quantise } from './quantise.ts'

/** Where hearing ends (common practice, no source). */
const HEARD_BELOW: Hz = 20_000

/** How a lamp stays lit between notes and is not heard: at `hz`, or what its timer makes of that. Undefined where it cannot, as over MIDI, whose keys end below. */
export function glowLight(lamp: Lamp, output: Output, hz: Hz): (Quantised & { readonly hz: Hz }) | undefined {
  if (output.kind !== 'serial') return undefined
  const made = quantise(hz, output, lamp.slot)
  return made && made.realHz >= HEARD_BELOW ? { hz, ...made } : undefined
}
