import type { Drive } from '../domain/lamp-state.ts'
import { centsBetween } from '../domain/pitch.ts'
import type { MidiOutput, Output } from '../domain/rig.ts'
import type { Cents, Hz, Key } from '../domain/units.ts'
import { bendFrom, quantiseToBend } from './bend-quantise.ts'
import { fixedKey } from './fixed-key.ts'
import { quantiseToTimer } from './timer.ts'

export interface Quantised {
  readonly drive: Drive
  readonly realHz: Hz
  /** realHz against what was asked. */
  readonly cents: Cents
}

/**
 * What lamp `slot` of `output` really does when asked for `hz`; undefined where the output cannot.
 * `sounding`: the key (drive.key) the lamp sounds now, given for a change without a new strike. Where a bend from there
 * reaches, the answer keeps that key, so that what is reported is what the legato bend sounds, to the last bit.
 */
export function quantise(hz: Hz, output: Output, slot: number, sounding?: Key): Quantised | undefined {
  if (!(hz > 0) || !Number.isFinite(hz)) return undefined
  const made =
    output.kind === 'serial' ? quantiseToTimer(hz, output.timer) : onMidi(hz, output, slot, sounding)
  return made && { drive: made.drive, realHz: made.realHz, cents: centsBetween(made.realHz, hz) }
}

function onMidi(hz: Hz, output: MidiOutput, slot: number, sounding: Key | undefined) {
  if (output.layout === 'note-per-lamp') return fixedKey(output.firstNote, slot)
  const legato = sounding === undefined ? undefined : bendFrom(sounding, hz, output)
  return legato ?? quantiseToBend(hz, output)
}
