import type { LampId, NoteId } from '../domain/ids.ts'
import type { Intent } from '../domain/intent.ts'
import type { Note, PartEvent } from '../domain/part-event.ts'
import type { Micros } from '../domain/units.ts'
import type { Refusals } from './refusals.ts'
import { NO_REFUSALS, wasRefused, withRefusal } from './refusals.ts'
import type { Placed } from './placed.ts'
import type { Steal } from './steal.ts'
import { victimOf } from './steal.ts'
import { darken } from './darken.ts'
import type { LampView, StrategyStep } from './strategy.ts'
import { voiceOf } from './voice.ts'

/** Many voices, one lamp each: what `lowest-free`, `rotate` and `nearest` share. */
export interface Pool {
  readonly steal: Steal
  /** A note that lost its lamp, or never had one, takes the next that frees, as long as its key is down. */
  readonly resume: boolean
  /** In the order they were struck. */
  readonly notes: readonly Placed[]
  /** Per lamp: the note on it, 0 for none. */
  readonly on: readonly NoteId[]
  readonly refusals: Refusals
}

/** What makes one pool strategy another: which of the free lamps a note takes, and what is remembered of it. */
export interface Chooser<State extends Pool> {
  /** A free lamp (`isFree`), or -1. */
  choose(state: State, note: Note, isFree: (index: number) => boolean): number
  /** After a note took a lamp. */
  took?(state: State, index: number): State
  /** A lamp is to sound this note from now on: newly, or because the note's key was corrected. */
  sounds?(state: State, note: Note, index: number): State
}

export function startPool(lamps: readonly LampId[], steal: Steal, resume: boolean): Pool {
  return { steal, resume, notes: [], on: lamps.map(() => 0), refusals: NO_REFUSALS }
}

export function stepPool<State extends Pool>(
  state: State,
  event: PartEvent,
  view: LampView,
  now: Micros,
  chooser: Chooser<State>,
): StrategyStep<State> {
  switch (event.kind) {
    case 'note-on':
      return strike(state, event.note, view, chooser)
    case 'note-release':
      return release(state, event.id)
    case 'note-off':
      return lift(state, event.id, view, now, chooser)
    case 'note-rekey':
      return rekey(state, event.id, event.key, view, chooser)
    case 'all-off':
      return clear(state, view)
    case 'refused':
      return refused(state, event.id, view.lamps.indexOf(event.lamp), view, now, chooser)
    case 'lost':
      return lost(state, view.lamps.indexOf(event.lamp), event.ends === true, view, now, chooser)
    case 'gained':
      return gained(state, view.lamps.indexOf(event.lamp), view, now, chooser)
    default:
      return { state, intents: [] }
  }
}

function strike<State extends Pool>(
  state: State,
  note: Note,
  view: LampView,
  chooser: Chooser<State>,
): StrategyStep<State> {
  const free = chooser.choose(state, note, freeIn(state, view))
  if (free >= 0) return place(withNote(state, note), note, free, view, chooser)
  const victim = victimOf(
    state.notes.filter(({ lamp }) => view.usable(lamp)),
    state.steal,
  )
  if (victim) {
    const robbed = unplace(state, victim)
    const stolen = { ...robbed, on: robbed.on.with(victim.lamp, 0) }
    return place(withNote(stolen, note), note, victim.lamp, view, chooser, victim.note.id)
  }
  return { state: state.resume ? withNote(state, note) : state, intents: [] }
}

function release<State extends Pool>(state: State, id: NoteId): StrategyStep<State> {
  const index = state.notes.findIndex((placed) => placed.note.id === id)
  const placed = state.notes[index]
  if (!placed) return { state, intents: [] }
  // A note that waits without its key has nothing to come back for.
  if (placed.lamp < 0) return { state: { ...state, notes: state.notes.toSpliced(index, 1) }, intents: [] }
  return { state: { ...state, notes: state.notes.with(index, { ...placed, released: true }) }, intents: [] }
}

function lift<State extends Pool>(
  state: State,
  id: NoteId,
  view: LampView,
  now: Micros,
  chooser: Chooser<State>,
): StrategyStep<State> {
  const index = state.notes.findIndex((placed) => placed.note.id === id)
  const placed = state.notes[index]
  if (!placed) return { state, intents: [] }
  const notes = state.notes.toSpliced(index, 1)
  if (placed.lamp < 0) return { state: { ...state, notes }, intents: [] }
  const freed = { ...state, notes, on: state.on.with(placed.lamp, 0) }
  return (
    takeUp(freed, placed.lamp, view, now, chooser) ?? { state: freed, intents: darken(view, placed.lamp) }
  )
}

/** A lamp is free: the note struck last of those waiting takes it. Undefined where none may. */
function takeUp<State extends Pool>(
  state: State,
  lamp: number,
  view: LampView,
  now: Micros,
  chooser: Chooser<State>,
): StrategyStep<State> | undefined {
  if (!state.resume || state.on[lamp] !== 0 || !view.usable(lamp)) return undefined
  const waiting = state.notes.findLast(
    ({ note, lamp: at }) => at < 0 && !wasRefused(state.refusals, note.id, lamp, now),
  )
  return waiting && place(state, waiting.note, lamp, view, chooser)
}

function rekey<State extends Pool>(
  state: State,
  id: NoteId,
  key: number,
  view: LampView,
  chooser: Chooser<State>,
): StrategyStep<State> {
  const index = state.notes.findIndex((placed) => placed.note.id === id)
  const placed = state.notes[index]
  if (!placed) return { state, intents: [] }
  const note = { ...placed.note, key }
  const next = { ...state, notes: state.notes.with(index, { ...placed, note }) }
  const lamp = view.lamps[placed.lamp]
  if (lamp === undefined || !view.usable(placed.lamp)) return { state: next, intents: [] }
  return {
    state: chooser.sounds?.(next, note, placed.lamp) ?? next,
    intents: [{ kind: 'light', lamp, voice: voiceOf(note), strike: false }],
  }
}

function clear<State extends Pool>(state: State, view: LampView): StrategyStep<State> {
  return {
    state: { ...state, notes: [], on: state.on.map(() => 0) },
    intents: state.on.flatMap((id, index) => (id === 0 ? [] : darken(view, index))),
  }
}

/** The note tries the other free lamps, each once; the lamp it was refused may do for another that waits, such as the one it was stolen from. */
function refused<State extends Pool>(
  state: State,
  id: NoteId,
  lamp: number,
  view: LampView,
  now: Micros,
  chooser: Chooser<State>,
): StrategyStep<State> {
  if (lamp < 0 || state.on[lamp] !== id) return { state, intents: [] }
  const refusals = withRefusal(state.refusals, id, lamp, now)
  const moved = moveOff({ ...state, refusals }, lamp, view, now, chooser)
  const next = takeUp(moved.state, lamp, view, now, chooser)
  return next ? { state: next.state, intents: [...moved.intents, ...next.intents] } : moved
}

function lost<State extends Pool>(
  state: State,
  lamp: number,
  ends: boolean,
  view: LampView,
  now: Micros,
  chooser: Chooser<State>,
): StrategyStep<State> {
  if (lamp < 0) return { state, intents: [] }
  if (!ends) return moveOff(state, lamp, view, now, chooser)
  const notes = state.notes.filter((placed) => placed.lamp !== lamp)
  return { state: { ...state, notes, on: state.on.with(lamp, 0) }, intents: [] }
}

/** The note on a lamp that is dark now goes to a free one, or waits where it may, or is over. */
function moveOff<State extends Pool>(
  state: State,
  lamp: number,
  view: LampView,
  now: Micros,
  chooser: Chooser<State>,
): StrategyStep<State> {
  const placed = state.notes.find((one) => one.lamp === lamp)
  if (!placed) return { state, intents: [] }
  const freed = unplace({ ...state, on: state.on.with(lamp, 0) }, placed)
  const isFree = freeIn(freed, view)
  const other = chooser.choose(
    freed,
    placed.note,
    (index) => index !== lamp && isFree(index) && !wasRefused(state.refusals, placed.note.id, index, now),
  )
  if (other < 0) return { state: freed, intents: [] }
  return place({ ...freed, notes: state.notes }, placed.note, other, view, chooser)
}

function gained<State extends Pool>(
  state: State,
  lamp: number,
  view: LampView,
  now: Micros,
  chooser: Chooser<State>,
): StrategyStep<State> {
  return (lamp < 0 ? undefined : takeUp(state, lamp, view, now, chooser)) ?? { state, intents: [] }
}

function freeIn(state: Pool, view: LampView): (index: number) => boolean {
  return (index) => state.on[index] === 0 && view.usable(index)
}

function withNote<State extends Pool>(state: State, note: Note): State {
  return { ...state, notes: [...state.notes, { note, lamp: -1, released: false }] }
}

/** The note has no lamp any more: it waits where it may, else it is over. */
function unplace<State extends Pool>(state: State, placed: Placed): State {
  const index = state.notes.findIndex((one) => one.note.id === placed.note.id)
  if (state.resume && !placed.released)
    return { ...state, notes: state.notes.with(index, { ...placed, lamp: -1 }) }
  return { ...state, notes: state.notes.toSpliced(index, 1) }
}

function place<State extends Pool>(
  state: State,
  note: Note,
  index: number,
  view: LampView,
  chooser: Chooser<State>,
  stole?: NoteId,
): StrategyStep<State> {
  const lamp = view.lamps[index]
  if (lamp === undefined) return { state, intents: [] }
  const at = state.notes.findIndex((placed) => placed.note.id === note.id)
  const held = state.notes[at]
  const notes = held ? state.notes.with(at, { ...held, lamp: index }) : state.notes
  const next = { ...state, notes, on: state.on.with(index, note.id) }
  const intent: Intent = {
    kind: 'light',
    lamp,
    voice: voiceOf(note),
    strike: true,
    ...(stole === undefined ? {} : { stole }),
  }
  const taken = chooser.took?.(next, index) ?? next
  return { state: chooser.sounds?.(taken, note, index) ?? taken, intents: [intent] }
}
