/** What no count of ours knows, a line each. */
export const UNKNOWN: readonly string[] = [
  'How bright the lamps are, which colour they have, and how much of anybody’s view they fill: shares are of the number of lamps, not of area.',
  'How far away people are, where they look, who they are and what they bear.',
  'What the lamps, supplies, wires and fuses really are: amps and watts are worked out from what somebody typed, nothing is measured.',
  'How hot anything gets, and how loud the sound is.',
  'What is played on the night: only the takes were counted, and people play otherwise. Lamps that fail lit are in no count.',
]
