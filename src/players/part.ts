import type { NoteId } from '../domain/ids.ts'
import type { Expression, Note, PartEvent } from '../domain/part-event.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { DutySource, Part } from '../domain/song.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Duty, Key } from '../domain/units.ts'

export interface PartState {
  readonly transpose: number
  readonly low: Key
  readonly high: Key
  readonly duty: DutySource
  /** Notes that this part took; only their ends concern it. */
  readonly notes: readonly NoteId[]
}

export type PartOut = PartEvent | Expression

/** A player's share of a song: the keys it takes, moved by its transposition, with the duty its sources give. */
export const part: Stage<Part, PartState, PlayerEvent, PartOut> = {
  name: 'part',
  start: ({ transpose, notes: [low, high], duty }) => ({ transpose, low, high, duty, notes: [] }),
  step(state, event): Step<PartState, PartOut> {
    switch (event.kind) {
      case 'note-on': {
        if (event.key < state.low || event.key > state.high) return { state, out: [] }
        const note: Note = {
          id: event.note,
          key: event.key + state.transpose,
          channel: event.channel,
          velocity: event.velocity,
          ...(state.duty.velocity ? { duty: between(state.duty, event.velocity) } : {}),
        }
        return { state: { ...state, notes: [...state.notes, event.note] }, out: [{ kind: 'note-on', note }] }
      }
      case 'note-off':
        if (!state.notes.includes(event.note)) return { state, out: [] }
        return {
          state: { ...state, notes: state.notes.filter((id) => id !== event.note) },
          out: [{ kind: 'note-off', id: event.note }],
        }
      case 'note-release':
        return {
          state,
          out: state.notes.includes(event.note) ? [{ kind: 'note-release', id: event.note }] : [],
        }
      case 'note-rekey': {
        const taken = state.notes.includes(event.note)
        return {
          state,
          out: taken ? [{ kind: 'note-rekey', id: event.note, key: event.key + state.transpose }] : [],
        }
      }
      case 'all-off':
        return { state: { ...state, notes: [] }, out: [{ kind: 'all-off' }] }
      case 'bend':
        return { state, out: [{ kind: 'bend', channel: event.channel, cents: event.cents }] }
      case 'controller':
        if (event.controller !== state.duty.controller) return { state, out: [] }
        return { state, out: [{ kind: 'duty', duty: between(state.duty, event.value) }] }
      case 'joined':
      case 'dropped':
        return { state, out: [] }
    }
  },
}

/** 0..127 over low..high. */
function between({ low, high }: DutySource, value: number): Duty {
  return low + ((high - low) * value) / 127
}
