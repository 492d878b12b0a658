import type { PlayerEvent } from '../domain/player-event.ts'
import type { Channel, Key, Micros, Velocity } from '../domain/units.ts'
import { isSlide } from './string-bend.ts'
import type { Change, StringsState, Strung } from './strung.ts'
import { BURST, ghost, isOctave, joinedTo, replace, soundingUnder } from './strung.ts'

/** A note-on: a second thought about a note there is, or a new one that has yet to last. */
export function begin(
  state: StringsState,
  channel: Channel,
  key: Key,
  velocity: Velocity,
  now: Micros,
): Change {
  const leap = state.notes.find((note) => note.channel === channel && leapsBack(state, note, key, now))
  if (leap) return dissolve(state, leap, key)
  const same = state.notes.find((note) => isSameStrike(state, note, channel, key, now))
  return same ? thinkAgain(state, same, key, now) : strike(state, channel, key, velocity, now)
}

/** An octave away and back again before it was even decided: the note below it never changed. */
function leapsBack(state: StringsState, note: Strung, key: Key, now: Micros): boolean {
  const below = soundingUnder(state, note)
  return (
    note.id === 0 && below?.key === key && isOctave(note.key, key) && now - note.onset < state.octaveGuard
  )
}

function dissolve(state: StringsState, leap: Strung, key: Key): Change {
  const below = soundingUnder(state, leap)
  if (!below) return { state, out: [] }
  const notes = replace(
    state.notes.filter((one) => one !== leap),
    below,
    { ...below, endedAt: null, until: null },
  )
  const out = Array.from({ length: leap.joined + 1 }, () => joinedTo(below.id, leap))
  return { state: { ...state, notes }, out: [...out, joinedTo(below.id, { ...below, key })] }
}

/** The same key again after an end, or an octave off, soon after the onset. */
function isSameStrike(state: StringsState, note: Strung, channel: Channel, key: Key, now: Micros): boolean {
  if (note.channel !== channel || now - note.onset >= state.octaveGuard) return false
  if (note.key === key) return note.endedAt !== null
  return isOctave(note.key, key) && (note.endedAt !== null || state.isMono)
}

function thinkAgain(state: StringsState, note: Strung, key: Key, now: Micros): Change {
  const again = { ...note, key, endedAt: null }
  if (note.id === 0) {
    const until = Math.max(now, note.onset + state.minNote)
    const waiting = { ...again, until, joined: note.joined + 1 }
    return { state: { ...state, notes: replace(state.notes, note, waiting) }, out: [] }
  }
  // The string sounds this and nothing else.
  const others = state.notes.filter((one) => one.id === 0 && one.over === note.id)
  const rest = state.notes.filter((one) => !others.includes(one))
  const notes = replace(rest, note, { ...again, until: null })
  const rekey: PlayerEvent[] = note.key === key ? [] : [{ kind: 'note-rekey', note: note.id, key }]
  return { state: { ...state, notes }, out: [...others.flatMap(ghost), ...rekey, joinedTo(note.id, again)] }
}

function strike(state: StringsState, channel: Channel, key: Key, velocity: Velocity, now: Micros): Change {
  const isHere = (one: Strung): boolean => one.channel === channel && (state.isMono || one.key === key)
  const waiting = state.notes.find((one) => one.id === 0 && isHere(one))
  const below = state.notes.find((one) => one.id !== 0 && (isHere(one) || isLeftFor(one, channel, key, now)))
  const last = waiting ?? below
  const isLegato =
    state.isLegato &&
    state.isMono &&
    below !== undefined &&
    last !== undefined &&
    (last.endedAt === null || last.endedAt === now) &&
    // The same key from a note that sounds is a string struck again; from one that a slide passed it is the way back.
    (waiting ? waiting.isLegato : below.key !== key)
  // What a slide passes is part of it; anything else that is overtaken before it was decided was none.
  const isPassed = isLegato && waiting !== undefined
  const fresh: Strung = {
    id: 0,
    channel,
    key,
    velocity,
    onset: now,
    joined: isPassed ? waiting.joined + 1 : 0,
    endedAt: null,
    until: now + state.minNote,
    over: below?.id ?? 0,
    isLegato,
  }
  const begun = isSlide(state, fresh, below, now) ? { ...fresh, until: now, isLegato: true } : fresh
  const notes = [...state.notes.filter((one) => one !== waiting), begun]
  return { state: { ...state, notes }, out: waiting && !isPassed ? ghost(waiting) : [] }
}

/** With all strings on one channel: an octave that begins as the note ends may be the converter's leap. */
function isLeftFor(note: Strung, channel: Channel, key: Key, now: Micros): boolean {
  const { endedAt } = note
  return note.channel === channel && endedAt !== null && now - endedAt <= BURST && isOctave(note.key, key)
}

/** Note-offs, or as much as note-offs, for those notes. */
export function finish(state: StringsState, which: (note: Strung) => boolean, now: Micros): Change {
  let change: Change = { state, out: [] }
  for (const note of state.notes) {
    if (note.endedAt === null && which(note)) change = end(change, note, now)
  }
  return change
}

function end({ state, out }: Change, note: Strung, now: Micros): Change {
  const leap = state.isMono ? undefined : state.notes.find((one) => isLeapFrom(note, one, now))
  if (leap && now - note.onset < state.octaveGuard) return correct({ state, out }, note, leap)
  // What corrects it may be in the same burst.
  const until = Math.max(now + BURST, note.id === 0 ? (note.until ?? 0) : note.onset + state.octaveGuard)
  const ended = replace(state.notes, note, { ...note, endedAt: now, until })
  const notes = leap && note.id !== 0 ? replace(ended, leap, { ...leap, over: note.id }) : ended
  return { state: { ...state, notes }, out }
}

/** With all strings on one channel, where the new octave is said before the old one ends. */
function isLeapFrom(note: Strung, one: Strung, now: Micros): boolean {
  return (
    one.id === 0 &&
    one.endedAt === null &&
    one.over === 0 &&
    one.channel === note.channel &&
    isOctave(one.key, note.key) &&
    one.onset >= note.onset &&
    now - one.onset <= BURST
  )
}

function correct({ state, out }: Change, note: Strung, leap: Strung): Change {
  const { key } = leap
  const joined = note.id === 0 ? note.joined + leap.joined + 1 : 0
  const notes = replace(
    state.notes.filter((one) => one !== leap),
    note,
    { ...note, key, joined },
  )
  if (note.id === 0) return { state: { ...state, notes }, out }
  const again = Array.from({ length: leap.joined + 1 }, () => joinedTo(note.id, leap))
  return { state: { ...state, notes }, out: [...out, { kind: 'note-rekey', note: note.id, key }, ...again] }
}
