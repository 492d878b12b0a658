import type { NoteId } from '../domain/ids.ts'
import type { Expression, PartEvent } from '../domain/part-event.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { DutySource, Part } from '../domain/song.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Duty, Key } from '../domain/units.ts'

type Struck = Extract<PlayerEvent, { kind: 'note-on' }>

export interface PartState {
  readonly transpose: number
  readonly low: Key
  readonly high: Key
  readonly duty: DutySource
  /** What else controllers move. */
  readonly amounts: readonly { readonly kind: 'vibrato' | 'pitched'; readonly controller: number }[]
  /** What the player sounds, on the keys it has now. Those in the range are this part's; another may come to be, as a converter thinks again or a finger slides. */
  readonly notes: readonly Struck[]
}

export type PartOut = PartEvent | Expression

/** A player's share of a song: the keys it takes, moved by its transposition, with the duty its sources give. */
export const part: Stage<Part, PartState, PlayerEvent, PartOut> = {
  name: 'part',
  start: ({ transpose, notes: [low, high], duty, vibrato, pulse }) => ({
    transpose,
    low,
    high,
    duty,
    amounts: [
      ...(vibrato?.controller === undefined
        ? []
        : [{ kind: 'vibrato', controller: vibrato.controller } as const]),
      ...(pulse?.controller === undefined
        ? []
        : [{ kind: 'pitched', controller: pulse.controller } as const]),
    ],
    notes: [],
  }),
  step(state, event): Step<PartState, PartOut> {
    switch (event.kind) {
      case 'note-on':
        return {
          state: { ...state, notes: [...state.notes, event] },
          out: isOwn(state, event.key) ? [taken(state, event)] : [],
        }
      case 'note-off': {
        const struck = noteOf(state, event.note)
        if (!struck) return { state, out: [] }
        return {
          state: { ...state, notes: state.notes.filter((one) => one !== struck) },
          out: isOwn(state, struck.key) ? [{ kind: 'note-off', id: event.note }] : [],
        }
      }
      case 'note-release': {
        const struck = noteOf(state, event.note)
        const isTaken = struck !== undefined && isOwn(state, struck.key)
        return { state, out: isTaken ? [{ kind: 'note-release', id: event.note }] : [] }
      }
      case 'note-rekey':
        return rekey(state, event)
      case 'all-off':
        return { state: { ...state, notes: [] }, out: [{ kind: 'all-off' }] }
      case 'bend':
        return { state, out: [{ kind: 'bend', channel: event.channel, cents: event.cents }] }
      case 'controller':
        return { state, out: turned(state, event.controller, event.value) }
      case 'joined':
      case 'dropped':
        return { state, out: [] }
    }
  },
}

function turned({ duty, amounts }: PartState, controller: number, value: number): PartOut[] {
  return [
    ...(controller === duty.controller ? [{ kind: 'duty', duty: between(duty, value) } as const] : []),
    ...amounts.flatMap((one) =>
      one.controller === controller ? [{ kind: one.kind, amount: value / 127 }] : [],
    ),
  ]
}

function isOwn({ low, high }: PartState, key: Key): boolean {
  return key >= low && key <= high
}

function noteOf({ notes }: PartState, id: NoteId): Struck | undefined {
  return notes.find(({ note }) => note === id)
}

function taken({ transpose, duty }: PartState, { note: id, key, channel, velocity }: Struck): PartOut {
  return {
    kind: 'note-on',
    note: {
      id,
      key: key + transpose,
      channel,
      velocity,
      ...(duty.velocity ? { duty: between(duty, velocity) } : {}),
    },
  }
}

/** The key decides whose the note is, as if it were struck there: another part of the player may have the keys beside these. */
function rekey(
  state: PartState,
  { note, key, legato }: Extract<PlayerEvent, { kind: 'note-rekey' }>,
): Step<PartState, PartOut> {
  const before = noteOf(state, note)
  if (!before) return { state, out: [] }
  const after = { ...before, key }
  const next = { ...state, notes: state.notes.map((one) => (one === before ? after : one)) }
  if (!isOwn(state, key))
    return { state: next, out: isOwn(state, before.key) ? [{ kind: 'note-off', id: note }] : [] }
  if (!isOwn(state, before.key)) return { state: next, out: [taken(state, after)] }
  const moved = { kind: 'note-rekey', id: note, key: key + state.transpose } as const
  return { state: next, out: [legato ? { ...moved, legato } : moved] }
}

/** 0..127 over low..high. */
function between({ low, high }: DutySource, value: number): Duty {
  return low + ((high - low) * value) / 127
}
