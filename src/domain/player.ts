import type { PlayerId } from './ids.ts'
import type { PadCurve } from './pad-curve.ts'
import type { Channel, Key } from './units.ts'

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

/** Drum pads: every hit lasts `gateMs`, whatever the pad sends. What is said here goes for every pad that says nothing else itself. */
export interface PadsPlayer extends PlayerBase {
  readonly kind: 'pads'
  /** Hits softer than this are noise. */
  readonly floor: number
  /** A pad hit again within this time bounced. */
  readonly maskMs: number
  /** A hit this soon after a hit on another pad, under a third as strong, is the stand shaking. */
  readonly crosstalkMs: number
  readonly gateMs: number
  /** How strong a hit is taken to be. Floor, mask and crosstalk go by how it was struck. */
  readonly curve: PadCurve
  /** Pads that are named, or set otherwise than the rest; each key once. */
  readonly pads: readonly Pad[]
}

/** One pad: what it sends, and what it is called. */
export interface Pad {
  readonly key: Key
  readonly name: string
  readonly floor?: number | undefined
  readonly maskMs?: number | undefined
  readonly gateMs?: number | undefined
  readonly curve?: PadCurve | undefined
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

/** What a key of a player is called where it is a pad that has a name. */
export function padName(player: Player | undefined, key: Key): string | undefined {
  return player?.kind === 'pads' ? player.pads.find((pad) => pad.key === key)?.name : undefined
}
