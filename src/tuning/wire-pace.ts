import type { Output } from '../domain/rig.ts'
import type { Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'

/** No faster than this, however fast the wire. */
const SHORTEST: Micros = 4000
/** Of the wire at most, so that strikes find it free. */
const SHARE = 0.5

/** A start and a stop bit to each byte (MIDI 1.0; serial 8N1). */
const BITS_A_BYTE = 10
const MIDI_BAUD = 31_250
/** A set frame without its lamps: type, sequence, time, count, CRC, and COBS with its end. */
const FRAME_BYTES = 7 + 2 + 3
const LAMP_BYTES = 7
const LAMPS_A_FRAME = 35
/** A bend and a duty controller, under running status or not. */
const MIDI_LAMP_BYTES = 6

/**
 * How far apart, at least, the changes of sounding lamps leave for an output: all its lamps at once then take half its wire at most. 4 ms where the wire would do
 * more.
 */
export function wirePace(output: Output, lamps: number): Micros {
  const bytes =
    output.kind === 'serial'
      ? lamps * LAMP_BYTES + Math.ceil(lamps / LAMPS_A_FRAME) * FRAME_BYTES
      : lamps * MIDI_LAMP_BYTES
  const baud = output.kind === 'serial' ? output.baud : MIDI_BAUD
  return Math.max(SHORTEST, Math.ceil((bytes * BITS_A_BYTE * MICROS_PER_SECOND) / (baud * SHARE)))
}
