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

/** How a converter sends its strings: each on a channel of its own, where it sounds one note; or all on one, where every key is on its own. */
export type StringsMode = 'string-per-channel' | 'one-channel'

/** A string instrument behind a pitch-to-MIDI converter. */
export interface StringsPlayer extends PlayerBase {
  readonly kind: 'strings'
  /** Absent: it goes by how many channels it listens to (`stringsMode`). */
  readonly mode?: StringsMode | undefined
  /** A note shorter than this is a ghost. */
  readonly minNoteMs: number
  /** A leap of an octave within this time after an onset, and the return from one, is the converter changing its mind. */
  readonly octaveGuardMs: number
  /** Over how long a bend that moves is spread, 0 (not at all) to 5. */
  readonly bendSmoothMs: number
  /** A note that begins while another still sounds on its string goes on with that voice, and is not struck anew. */
  readonly legato: boolean
  readonly bendRange: number
}

/** Several channels are a string each; one has them all. */
export function stringsMode({ mode, input }: Pick<StringsPlayer, 'mode' | 'input'>): StringsMode {
  return mode ?? (new Set(input.channels).size > 1 ? 'string-per-channel' : 'one-channel')
}

export type Player = KeysPlayer | PadsPlayer | StringsPlayer

/** What a key of a player is called where it is a pad that has a name. */
export function padName(player: Player | undefined, key: Key): string | undefined {
  return player?.kind === 'pads' ? player.pads.find((pad) => pad.key === key)?.name : undefined
}
