import type { LampIndex, NoteId, OutputId, PartIndex } from '../domain/ids.ts'
import type { LampState, Lit } from '../domain/lamp-state.ts'
import type { Order } from '../domain/order.ts'
import type { Expression } from '../domain/part-event.ts'
import type { Wander } from '../domain/part-motion.ts'
import type { TimerSpec } from '../domain/rig.ts'
import type { Wake } from '../domain/stage.ts'
import type { KeyTuning } from '../domain/tuning-spec.ts'
import type { Bpm, Cents, Duty, Hz, Micros } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import type { Fold } from './unseen.ts'
import type { LampPlace, ResolvePart, Sounding } from './voice-light.ts'

export interface ResolveConfig {
  readonly lamps: readonly LampPlace[]
  readonly parts: readonly ResolvePart[]
  readonly wander?: Wander | undefined
  /** What the song's flash guard moves by octaves; absent: nothing. */
  readonly fold?: Fold | undefined
  /** How the song's beats go as it is made ready; absent: 120 a minute from 0. */
  readonly time?: SongBeats | undefined
}

export interface SongBeats {
  readonly clock: BeatClock
  /** Never 0. */
  readonly tempo: Bpm
}

export type ResolveIn =
  | { readonly kind: 'orders'; readonly orders: readonly Order[] }
  /** The song begins with these, while the lamps do what `lamps` says: one that sounds the same note already goes on, the others are struck. */
  | { readonly kind: 'begin'; readonly orders: readonly Order[]; readonly lamps: readonly LampState[] }
  | { readonly kind: 'expression'; readonly part: PartIndex; readonly expression: Expression }
  /** A lamp box turned out to have another timer than the show says. */
  | { readonly kind: 'timer'; readonly output: OutputId; readonly timer: TimerSpec }
  /** Parts go on in these tunings, by part. `retune`: what sounds as well, else notes to come. */
  | { readonly kind: 'tunings'; readonly tunings: readonly KeyTuning[]; readonly retune: boolean }
  /** The song's flash guard moves this from now on, of what sounds as well. */
  | { readonly kind: 'fold'; readonly fold: Fold | undefined }
  /** The song's beats go otherwise than before. */
  | { readonly kind: 'time'; readonly time: SongBeats }
  | Wake

export type ResolveOut =
  | { readonly kind: 'wishes'; readonly wishes: readonly Wish[] }
  /** The flash guard moved what was asked. */
  | {
      readonly kind: 'folded'
      readonly lamp: LampIndex
      readonly part: PartIndex
      readonly from: Hz
      readonly to: Hz
    }
  /** No octave of the pitch is within what lamp and output can do, or the tuning has none for the key. */
  | {
      readonly kind: 'refused'
      readonly lamp: LampIndex
      readonly part: PartIndex
      readonly note: NoteId
      readonly reason: 'range' | 'unmapped'
    }

/** A lamp at work. */
export interface Work extends Sounding {
  /** As it was last told; null: it waits for its first flash. */
  readonly lit: Lit | null
  /** It is to be struck with its next flash. */
  readonly isWaiting: boolean
  /** Something that it goes by has changed, and it has not been told. */
  readonly isStale: boolean
  readonly toldAt: Micros
}

export interface ResolveState {
  readonly config: ResolveConfig
  readonly lamps: readonly (Work | null)[]
  /** Per part and channel (from 1). */
  readonly bends: readonly (readonly Cents[])[]
  /** Per part: by controllers. */
  readonly duties: readonly Duty[]
  readonly vibratos: readonly number[]
  readonly pitched: readonly number[]
  /** Per part: what its last note came out as, which an always gliding one begins at. */
  readonly lasts: readonly (Hz | null)[]
  readonly time: SongBeats
  /** When the song first lit a lamp. */
  readonly since: Micros | null
  /** By output: how far apart changes of sounding lamps leave, and when they last did. */
  readonly paces: Readonly<Record<OutputId, Pace>>
}

export interface Pace {
  readonly every: Micros
  readonly at: Micros
}
