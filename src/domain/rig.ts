import type { LampId, OutputId, SupplyId } from './ids.ts'
import type { Amps, Cents, Channel, Duty, Hz, Key, Volts, Watts } from './units.ts'

/** A power supply. `usable` is the fraction (0..1] of `maxAmps` that may be drawn. */
export interface Supply {
  readonly id: SupplyId
  readonly volts: Volts
  readonly maxAmps: Amps
  readonly usable: number
}

/** The counter that makes a lamp's pulse: f = clockHz / (prescaler * (1 + TOP)), TOP of `bits` bits. */
export interface TimerSpec {
  readonly clockHz: Hz
  /** Ascending. */
  readonly prescalers: readonly number[]
  readonly bits: number
}

/** `offsetMs`: everything to this output is held back by so much, to line up with a slower one. */
export interface SerialOutput {
  readonly id: OutputId
  readonly kind: 'serial'
  readonly port: string
  readonly baud: number
  readonly timer: TimerSpec
  readonly offsetMs: number
}

export type MidiLayout = 'channel-per-lamp' | 'mpe' | 'note-per-lamp'

/** `keys`: single-note changes, in real time. `bulk`: a bulk dump. `octave`, `octave-fine`: scale/octave, of one and of two bytes a note. */
export type MtsForm = 'keys' | 'bulk' | 'octave' | 'octave-fine'

export interface MtsOut {
  readonly form: MtsForm
  /** Tuning program, 0 to 127; `octave` forms have none. */
  readonly program: number
  /** Device, 0 to 127; 127: all. */
  readonly device: number
}

export interface MidiOutput {
  readonly id: OutputId
  readonly kind: 'midi'
  readonly port: string
  readonly layout: MidiLayout
  /** Lamp slot s is on channel `firstChannel + s` (`channel-per-lamp`); all slots on it (`note-per-lamp`). */
  readonly firstChannel: Channel
  /** `note-per-lamp`: lamp slot s is key `firstNote + s`. */
  readonly firstNote: Key
  /** Semitones each way for a full bend. */
  readonly bendRange: number
  /** How many bits of a bend, from the top, the receiver goes by: 7 to 14. */
  readonly bendBits: number
  /** Controller that carries duty, 0..127 for 0..1; absent: duty is not sent. */
  readonly dutyController?: number | undefined
  /** The song's tuning is told there by the MIDI Tuning Standard, for whoever else listens; absent: it is not. */
  readonly mts?: MtsOut | undefined
  readonly offsetMs: number
}

export type Output = SerialOutput | MidiOutput

/** What a lamp bears in the mean, `seconds` being the time constant of that. */
export interface LampHeat {
  readonly meanWatts: Watts
  readonly seconds: number
}

export interface Lamp {
  readonly id: LampId
  readonly name: string
  readonly output: OutputId
  /** The lamp's number on its output, from 0. */
  readonly slot: number
  readonly supply: SupplyId
  /** What it draws while it is on. */
  readonly watts: Watts
  /** Absent: it bears `watts` for as long as you like. */
  readonly heat?: LampHeat | undefined
  /** Where it hangs, seen from the audience; metres or any one unit. */
  readonly x: number
  readonly y: number
  readonly lowHz: Hz
  readonly highHz: Hz
  readonly minDuty: Duty
  readonly maxDuty: Duty
  /** Added to every pitch asked of this lamp. */
  readonly trimCents: Cents
  /** Held back by this much, to line up with slower lamp boxes. */
  readonly delayMs: number
}

export interface Rig {
  readonly supplies: readonly Supply[]
  readonly outputs: readonly Output[]
  readonly lamps: readonly Lamp[]
}

/** Amps that a lamp draws while it is on: watts / volts (common practice, no source). */
export function lampAmps(lamp: Lamp, supply: Supply): Amps {
  return lamp.watts / supply.volts
}
