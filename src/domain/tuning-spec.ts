import type { PlayerId, TuningId } from './ids.ts'
import type { Cents, Hz, Key } from './units.ts'

/** `steps` equal parts of `periodCents`; key `refNote` sounds `refHz`; each key is one step. */
export interface EqualTuning {
  readonly id: TuningId
  readonly kind: 'equal'
  readonly steps: number
  readonly periodCents: Cents
  readonly refNote: Key
  readonly refHz: Hz
}

/** A pitch over the scale's first: a number is cents, text is a ratio such as "3/2" or "2". */
export type ScalePitch = Cents | string

/** Which key sounds which degree of a scale, as a `.kbm` file has it. */
export interface KeyMap {
  /** Keys outside `first`..`last` are not mapped. */
  readonly first: Key
  readonly last: Key
  /** The key on which the pattern of `degrees` begins. */
  readonly middle: Key
  /** The degree that is one repetition of the pattern up; 0: the scale's last. */
  readonly formalOctave: number
  /** Degree of each key from `middle` on, repeated up and down; null: not mapped. Empty: each key is one degree. */
  readonly degrees: readonly (number | null)[]
}

/** A list of pitches above an implied 1/1, the last of which is where it repeats; key `refNote` sounds `refHz`. */
export interface ScaleTuning {
  readonly id: TuningId
  readonly kind: 'scale'
  /** What it is, for people. */
  readonly name: string
  readonly pitches: readonly ScalePitch[]
  /** Absent: each key is one degree, and `refNote` is the 1/1. */
  readonly map?: KeyMap | undefined
  readonly refNote: Key
  readonly refHz: Hz
}

/** What a player's instrument says by MIDI Tuning Standard messages; keys that it has said nothing of sound as in `base`. */
export interface ReceivedTuning {
  readonly id: TuningId
  readonly kind: 'received'
  readonly player: PlayerId
  /** The tuning program that counts; scale/octave messages have none and always count. */
  readonly program: number
  /** Absent: messages without a bank, and those of bank 0. */
  readonly bank?: number | undefined
  /** Not a received one itself. */
  readonly base: TuningId
}

/** A tuning as the show has it. */
export type TuningSpec = EqualTuning | ScaleTuning | ReceivedTuning

/** Each of the 128 keys by itself; null: not mapped. */
export interface TableTuning {
  readonly id: TuningId
  readonly kind: 'table'
  readonly hz: readonly (Hz | null)[]
}

/** A tuning from which a key's pitch can be worked out. */
export type KeyTuning = EqualTuning | ScaleTuning | TableTuning
