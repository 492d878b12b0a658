import type { PlayerId } from './ids.ts'
import type { Channel } from './units.ts'

export interface PlayerInput {
  /** The MIDI port's name. */
  readonly port: string
  readonly channels: readonly Channel[]
}

interface PlayerBase {
  readonly id: PlayerId
  readonly name: string
  readonly input: PlayerInput
}

/** A keyboard. */
export interface KeysPlayer extends PlayerBase {
  readonly kind: 'keys'
  /** Semitones each way for a full bend, until the instrument says otherwise (RPN 0). */
  readonly bendRange: number
}

/** Drum pads: every hit lasts `gateMs`, whatever the pad sends. */
export interface PadsPlayer extends PlayerBase {
  readonly kind: 'pads'
  /** Hits softer than this are noise. */
  readonly floor: number
  /** A pad hit again within this time bounced. */
  readonly maskMs: number
  /** A hit this soon after a hit on another pad, under a third as strong, is the stand shaking. */
  readonly crosstalkMs: number
  readonly gateMs: number
}

/** A string instrument behind a pitch-to-MIDI converter, one channel a string or all on one. */
export interface StringsPlayer extends PlayerBase {
  readonly kind: 'strings'
  /** A note shorter than this is a ghost. */
  readonly minNoteMs: number
  /** A leap of an octave within this time after the onset is the converter changing its mind. */
  readonly octaveGuardMs: number
  readonly bendRange: number
}

export type Player = KeysPlayer | PadsPlayer | StringsPlayer
