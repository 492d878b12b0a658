import { midiKeyToHz, shiftByCents } from '../domain/pitch.ts'
import type { Output } from '../domain/rig.ts'
import type { Hz } from '../domain/units.ts'

/**
 * About the lowest rate that an output makes: a timer's longest period (ATmega640/1280/2560 data sheet), or key 0 with the bend all the way down (MIDI 1.0). Lamps that are
 * fixed keys have none that is asked for: 0.
 */
export function lowestHz(output: Output): Hz {
  if (output.kind === 'midi')
    return output.layout === 'note-per-lamp' ? 0 : shiftByCents(midiKeyToHz(0), -100 * output.bendRange)
  const { clockHz, prescalers, bits } = output.timer
  return clockHz / (Math.max(...prescalers) * 2 ** bits)
}
