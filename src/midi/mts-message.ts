import type { Cents, Channel, Key } from '../domain/units.ts'
import type { MtsWord } from './mts-word.ts'

/** A message of the MIDI Tuning Standard. `device` 0..127, 127 is all; `realTime`: what sounds is tuned as well, else notes to come. */
export type MtsMessage = MtsKeys | MtsBulk | MtsOctave

/** Single-note changes. */
export interface MtsKeys {
  readonly kind: 'keys'
  readonly device: number
  /** Without a bank it is always in real time. */
  readonly realTime: boolean
  readonly bank?: number | undefined
  readonly program: number
  readonly changes: readonly { readonly key: Key; readonly word: MtsWord }[]
}

/** A bulk dump; never in real time. */
export interface MtsBulk {
  readonly kind: 'bulk'
  readonly device: number
  readonly bank?: number | undefined
  readonly program: number
  /** 16 characters. */
  readonly name: string
  /** Key 0 first. */
  readonly words: readonly MtsWord[]
}

/** Scale/octave: each of the twelve pitch classes, C first, against twelve equal steps. */
export interface MtsOctave {
  readonly kind: 'octave'
  readonly device: number
  readonly realTime: boolean
  readonly channels: readonly Channel[]
  /** Two bytes a class, -100 to 99.988 cents in steps of 100/8192; else one, -64 to 63 in steps of 1. */
  readonly fine: boolean
  readonly cents: readonly Cents[]
}

/** One that is no good, and is ignored whole. */
export interface MtsFault {
  readonly kind: 'fault'
  readonly why: string
}

export const REAL_TIME = 0x7f
export const NON_REAL_TIME = 0x7e
/** Sub-ID 1 of both kinds of universal system exclusive. */
export const TUNING = 0x08
/** Sub-ID 2: MIDI 1.0 Detailed Specification, and its updates CA-020 (banks, dumps) and CA-021 (scale/octave); from memory. */
export const BULK = 0x01
export const KEYS = 0x02
export const BANKED_BULK = 0x04
export const BANKED_KEYS = 0x07
export const OCTAVE = 0x08
export const OCTAVE_FINE = 0x09

export const KEY_COUNT = 128
export const NAME_LENGTH = 16
/** A count of changes is one byte. */
export const MOST_CHANGES = 127
/** Steps of the one-byte and of the two-byte form, cents, and what stands for none. */
export const OCTAVE_STEP = { coarse: 1, fine: 100 / 8192 } as const
export const OCTAVE_CENTRE = { coarse: 64, fine: 8192 } as const

/** XOR of all bytes between F0 and the checksum, and 7F. */
export function checksum(bytes: readonly number[]): number {
  return bytes.reduce((sum, byte) => sum ^ byte, 0) & 0x7f
}
