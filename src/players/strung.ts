import type { NoteId } from '../domain/ids.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import { BURST_MS } from '../domain/strings-cost.ts'
import type { Cents, Channel, Key, Micros, Velocity } from '../domain/units.ts'
import { msToMicros } from '../time/beats.ts'
import type { SensingDeadline } from './active-sensing.ts'
import type { ChannelBend } from './channel-bend.ts'
import type { Glide } from './glide.ts'

/** A note of the converter, from its first guess on. */
export interface Strung {
  /** 0 until it has lasted long enough to be a note. */
  readonly id: NoteId
  readonly channel: Channel
  readonly key: Key
  readonly velocity: Velocity
  /** When its key was first said. */
  readonly onset: Micros
  /** Note-ons that went into it before it began: second thoughts, and keys that a slide passed. */
  readonly joined: number
  /** When the converter ended it; it lasts until `until`, in case the converter thinks again. */
  readonly endedAt: Micros | null
  /** When it is decided: a new note whether it is one, an ended note that it is over. Null: nothing is open. */
  readonly until: Micros | null
  /** Of a note not yet decided: the one that sounds on its string and ends, or goes on as this one, when it begins. 0: none. */
  readonly over: NoteId
  /** It began while the one before it still sounded. */
  readonly isLegato: boolean
}

export interface StringsState {
  readonly channels: readonly Channel[]
  /** A channel is a string, and sounds one note. */
  readonly isMono: boolean
  readonly isLegato: boolean
  readonly range: number
  readonly minNote: Micros
  readonly octaveGuard: Micros
  readonly bendSmooth: Micros
  readonly nextId: NoteId
  readonly notes: readonly Strung[]
  /** Per channel (from 1), as the converter sent them; `glides`: as they are told. */
  readonly bends: readonly ChannelBend[]
  readonly glides: readonly Glide[]
  /** Per channel: since when a leap of the bend waits for the note it may belong to. */
  readonly leaps: readonly (Micros | null)[]
  readonly sensing: SensingDeadline
}

export type Change = { readonly state: StringsState; readonly out: readonly PlayerEvent[] }

/** Within this time messages belong to one burst: a converter sends an end, a bend and an onset right after one another. */
export const BURST: Micros = msToMicros(BURST_MS)

export const OCTAVE = 12

/** The note that sounds where this one, not yet decided, is to go on. */
export function soundingUnder({ notes }: StringsState, { over }: Strung): Strung | undefined {
  return over === 0 ? undefined : notes.find(({ id }) => id === over)
}

export function isOctave(one: Key, other: Key): boolean {
  return Math.abs(one - other) === OCTAVE
}

export function centsOfKey(key: Key): Cents {
  return key * 100
}

/** A note that came to nothing: one for each note-on that went into it. */
export function ghost({ key, channel, joined }: Strung): PlayerEvent[] {
  return Array.from({ length: joined + 1 }, () => ({ kind: 'dropped', key, channel, why: 'ghost' }) as const)
}

export function joinedTo(note: NoteId, { key, channel }: Pick<Strung, 'key' | 'channel'>): PlayerEvent {
  return { kind: 'joined', note, key, channel }
}

export function replace(
  notes: readonly Strung[],
  before: Strung,
  ...after: readonly Strung[]
): readonly Strung[] {
  return notes.flatMap((one) => (one === before ? after : [one]))
}
