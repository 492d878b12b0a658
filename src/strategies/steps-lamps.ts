import type { NoteId } from '../domain/ids.ts'
import type { Intent, Voice } from '../domain/intent.ts'
import type { Beats, Micros } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import { timeOfBeat } from '../time/beat-clock.ts'
import { darken } from './darken.ts'
import type { LampView } from './strategy.ts'

/** When a strike is over: a time, or a beat of the pattern's clock, which follows the tempo. */
export type Until = { readonly at: Micros } | { readonly beat: Beats }

/** What a lamp sounds. Each strike has its own end, so that none ends a later one. */
export interface Sounding {
  readonly id: NoteId
  /** The row of the pattern that struck it; null: a pad's own note, or the pattern before this one. */
  readonly row: number | null
  /** Null: until the note ends. */
  readonly until: Until | null
}

/** Per lamp of the part. */
export type Lamps = readonly (Sounding | null)[]

/** A strike that waits for nothing any more. */
export interface Strike {
  readonly lamp: number
  readonly row: number | null
  readonly voice: Voice
  readonly until: Until | null
}

export interface LampsStep {
  readonly lamps: Lamps
  readonly intents: Intent[]
}

export function dueTime(until: Until | null, clock: BeatClock | null): Micros {
  if (until === null) return Infinity
  if ('at' in until) return until.at
  return clock ? timeOfBeat(clock, until.beat) : -Infinity
}

/** Lights what the part may light; of several strikes on a lamp the last counts. A lamp that is another's now misses its strike. */
export function strikeLamps(lamps: Lamps, strikes: readonly Strike[], view: LampView): LampsStep {
  const last = new Map(strikes.map((strike) => [strike.lamp, strike]))
  const next = lamps.slice()
  const intents: Intent[] = []
  for (const { lamp: index, row, voice, until } of last.values()) {
    const lamp = view.lamps[index]
    if (lamp === undefined || !view.usable(index)) continue
    next[index] = { id: voice.note, row, until }
    intents.push({ kind: 'light', lamp, voice, strike: true })
  }
  return { lamps: next, intents }
}

/** Darkens the lamps whose sound is one of those. */
export function darkenThose(lamps: Lamps, view: LampView, which: (sounding: Sounding) => boolean): LampsStep {
  const over = lamps.flatMap((sounding, index) => (sounding && which(sounding) ? [index] : []))
  if (over.length === 0) return { lamps, intents: [] }
  return {
    lamps: lamps.map((sounding, index) => (over.includes(index) ? null : sounding)),
    intents: over.flatMap((index) => darken(view, index)),
  }
}
