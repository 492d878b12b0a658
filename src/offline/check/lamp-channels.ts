import type { Lamp, MidiOutput } from '../../domain/rig.ts'
import type { Channel } from '../../domain/units.ts'

/** The channels that a MIDI output's lamps speak on; the manager's among them where there is an MPE zone. Rising. */
export function lampChannels(output: MidiOutput, lamps: readonly Lamp[]): Channel[] {
  const slots = lamps.filter((lamp) => lamp.output === output.id).map(({ slot }) => slot)
  if (slots.length === 0) return []
  switch (output.layout) {
    case 'note-per-lamp':
      return [output.firstChannel]
    case 'channel-per-lamp':
      return slots.map((slot) => output.firstChannel + slot).sort((a, b) => a - b)
    case 'mpe':
      // The zone is announced whole, from member 2 to the last that is used.
      return Array.from({ length: Math.max(...slots) + 2 }, (_, index) => index + 1)
  }
}
