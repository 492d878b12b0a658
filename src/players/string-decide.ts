import type { PlayerEvent } from '../domain/player-event.ts'
import type { Micros } from '../domain/units.ts'
import { bendAtOnce } from './string-bend.ts'
import type { Change, StringsState, Strung } from './strung.ts'
import { ghost, joinedTo, replace, soundingUnder } from './strung.ts'

/** Settles what is due: new notes first, since an ended one waits for what follows it. */
export function decide(change: Change, now: Micros): Change {
  return endDue(beginDue(change, now), now)
}

/** Notes that lasted begin; ghosts are dropped. */
function beginDue({ state, out }: Change, now: Micros): Change {
  const events: PlayerEvent[] = [...out]
  let next = state
  for (const note of state.notes) {
    if (note.id !== 0 || note.until === null || note.until > now) continue
    if (note.endedAt !== null) {
      events.push(...ghost(note))
      next = { ...next, notes: next.notes.filter((one) => one !== note) }
      continue
    }
    const below = soundingUnder(next, note)
    const begun = below && note.isLegato ? goOn(next, below, note, now) : start(next, below, note, now)
    next = begun.state
    events.push(...begun.out)
  }
  return { state: next, out: events }
}

/** What sounded on this string before ends now, not when the converter said so: no gap in a line. The string's bend is the new note's from here on. */
function start(state: StringsState, below: Strung | undefined, note: Strung, now: Micros): Change {
  const id = state.nextId
  const stay = state.notes.filter((one) => one !== below)
  const notes = replace(stay, note, { ...note, id, until: null, over: 0, isLegato: false })
  const bent = bendAtOnce({ ...state, nextId: id + 1, notes }, note.channel, id)
  const { key, channel, velocity } = note
  const off: PlayerEvent[] = below ? [{ kind: 'note-off', note: below.id }] : []
  const on: PlayerEvent = { kind: 'note-on', note: id, key, channel, velocity, ...heldBack(note, now) }
  const joined = Array.from({ length: note.joined }, () => joinedTo(id, note))
  return { state: bent.state, out: [...off, ...bent.out, on, ...joined] }
}

/** The voice goes on as another note. */
function goOn(state: StringsState, below: Strung, note: Strung, now: Micros): Change {
  const { id } = below
  const { key, onset } = note
  const rest = state.notes.filter((one) => one !== note)
  const notes = replace(rest, below, { ...below, key, onset, endedAt: null, until: null })
  const bent = bendAtOnce({ ...state, notes }, note.channel, id)
  const rekey: PlayerEvent[] =
    key === below.key ? [] : [{ kind: 'note-rekey', note: id, key, legato: true, ...heldBack(note, now) }]
  const joined = Array.from({ length: note.joined + 1 }, () => joinedTo(id, note))
  return { state: bent.state, out: [...bent.out, ...rekey, ...joined] }
}

function heldBack({ onset }: Strung, now: Micros): { readonly heldBack?: Micros } {
  return now > onset ? { heldBack: now - onset } : {}
}

/** Notes that ended are over, unless a note on the same string is still to be decided: then they last until it is. */
function endDue({ state, out }: Change, now: Micros): Change {
  const events: PlayerEvent[] = [...out]
  const notes = state.notes.flatMap((note) => {
    if (note.id === 0 || note.until === null || note.until > now) return [note]
    const follower = state.notes.find((one) => one.id === 0 && one.over === note.id)
    if (follower) return [{ ...note, until: follower.until }]
    events.push({ kind: 'note-off', note: note.id })
    return []
  })
  return { state: { ...state, notes }, out: events }
}
