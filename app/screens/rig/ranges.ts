/** A number of the rig or of a player, as it is asked for. The ends are those of the show file's schema. */
export interface NumberKind {
  readonly label: string
  readonly unit?: string
  readonly min?: number
  readonly max: number
  /** More than this, where the lower end itself is not allowed. */
  readonly above?: number
  readonly whole?: boolean
  readonly step?: number
}

export const SUPPLY_NUMBERS = {
  volts: { label: 'Volts', unit: 'V', above: 0, max: 1000 },
  maxAmps: { label: 'Amps it can give', unit: 'A', above: 0, max: 10_000, step: 0.5 },
  usable: { label: 'Share of them that may be drawn', above: 0, max: 1, step: 0.05 },
} as const satisfies Record<string, NumberKind>

export const LAMP_NUMBERS = {
  slot: { label: 'Slot', min: 0, max: 255, whole: true },
  watts: { label: 'Watts', unit: 'W', above: 0, max: 100_000 },
  x: { label: 'x', min: -1e6, max: 1e6, step: 0.1 },
  y: { label: 'y', min: -1e6, max: 1e6, step: 0.1 },
  lowHz: { label: 'Lowest', unit: 'Hz', above: 0, max: 100_000, step: 5 },
  highHz: { label: 'Highest', unit: 'Hz', above: 0, max: 100_000, step: 50 },
  minDuty: { label: 'Least', min: 0, max: 1, step: 0.01 },
  maxDuty: { label: 'Most', min: 0, max: 1, step: 0.01 },
  trimCents: { label: 'Trim', unit: 'cents', min: -1200, max: 1200 },
  delayMs: { label: 'Delay', unit: 'ms', min: 0, max: 10_000 },
} as const satisfies Record<string, NumberKind>

/** What a lamp bears in the mean. */
export const HEAT_NUMBERS = {
  meanWatts: { label: 'Watts in the mean', unit: 'W', above: 0, max: 100_000 },
  seconds: { label: 'Mean over', unit: 's', min: 0.1, max: 3600 },
} as const satisfies Record<string, NumberKind>

export const SERIAL_NUMBERS = {
  baud: { label: 'Baud', min: 300, max: 12_000_000, whole: true, step: 100 },
  offsetMs: { label: 'Held back', unit: 'ms', min: 0, max: 10_000 },
} as const satisfies Record<string, NumberKind>

export const TIMER_NUMBERS = {
  clockHz: { label: 'Timer clock', unit: 'Hz', above: 0, max: 1e9, step: 1_000_000 },
  bits: { label: 'Timer bits', min: 1, max: 32, whole: true },
} as const satisfies Record<string, NumberKind>

export const MIDI_NUMBERS = {
  firstChannel: { label: 'First channel', min: 1, max: 16, whole: true },
  firstNote: { label: 'First key', min: 0, max: 127, whole: true },
  bendRange: { label: 'Bend range', unit: 'semitones', min: 1, max: 96, whole: true },
  bendBits: { label: 'Bits of a bend it goes by', min: 7, max: 14, whole: true },
  dutyController: { label: 'Duty controller', min: 0, max: 119, whole: true },
  offsetMs: { label: 'Held back', unit: 'ms', min: 0, max: 10_000 },
} as const satisfies Record<string, NumberKind>

export const MTS_NUMBERS = {
  program: { label: 'Tuning program', min: 0, max: 127, whole: true },
  device: { label: 'Device', min: 0, max: 127, whole: true },
} as const satisfies Record<string, NumberKind>

export const PLAYER_NUMBERS = {
  bendRange: { label: 'Bend range', unit: 'semitones', min: 0, max: 96 },
  floor: { label: 'Softest hit taken', min: 0, max: 127, whole: true },
  maskMs: { label: 'Bounce time', unit: 'ms', min: 0, max: 1000 },
  crosstalkMs: { label: 'Crosstalk time', unit: 'ms', min: 0, max: 1000 },
  gateMs: { label: 'Length of a hit', unit: 'ms', above: 0, max: 60_000, step: 10 },
  minNoteMs: { label: 'Shortest note', unit: 'ms', min: 0, max: 1000 },
  octaveGuardMs: { label: 'Octave guard', unit: 'ms', min: 0, max: 1000 },
  bendSmoothMs: { label: 'Bends smoothed over', unit: 'ms', min: 0, max: 5, step: 0.5 },
} as const satisfies Record<string, NumberKind>
