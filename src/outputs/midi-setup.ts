import { BEND_CENTRE } from '../domain/bend.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Channel } from '../domain/units.ts'

/**
 * RPN 0, pitch bend sensitivity (MIDI 1.0 Detailed Specification): 65 00, 64 00, 06 semitones, 26 cents, then the null
 * parameter 65 7F, 64 7F, so that a stray data entry changes nothing. `range` in semitones.
 */
export function bendRangeSetup(channel: Channel, range: number): MidiMessage[] {
  const semitones = Math.trunc(range)
  const cents = Math.round((range - semitones) * 100)
  return controllers(channel, [
    [101, 0],
    [100, 0],
    [6, semitones],
    [38, cents],
    [101, 127],
    [100, 127],
  ])
}

/** Semitones of the manager's own bend, which moves all members besides their own (MIDI Polyphonic Expression 1.0); it is never bent here. */
const MANAGER_RANGE = 2

/**
 * RPN 6 on channel 1, the MPE Configuration Message (MIDI Polyphonic Expression 1.0): channel 1 becomes the manager of a lower
 * zone whose members are the `members` channels from 2 up. Then the manager's bend range and its bend at the centre, in
 * case that somebody bent it before.
 */
export function mpeZoneSetup(members: number): MidiMessage[] {
  const zone = controllers(1, [
    [101, 0],
    [100, 6],
    [6, members],
    [38, 0],
    [101, 127],
    [100, 127],
  ])
  return [...zone, ...bendRangeSetup(1, MANAGER_RANGE), { type: 'bend', channel: 1, value: BEND_CENTRE }]
}

function controllers(channel: Channel, pairs: readonly (readonly [number, number])[]): MidiMessage[] {
  return pairs.map(([controller, value]) => ({ type: 'controller', channel, controller, value }))
}
