import type { NoteId } from '../domain/ids.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Cents, Channel, Micros } from '../domain/units.ts'
import { centsOf } from './channel-bend.ts'
import type { Glide } from './glide.ts'
import { glideTo, jumpTo, STRAIGHT, stepGlide } from './glide.ts'
import type { Change, StringsState, Strung } from './strung.ts'
import { BURST, centsOfKey, OCTAVE } from './strung.ts'

/** A bend that moves so far at once may go with a change of key: a slide that crosses a semitone bends back by one. */
const LEAP: Cents = 80
/** Pitches this near are one pitch that goes on: less than the 100 that a change of key alone makes. */
const NEAR: Cents = 60

/** As far as a slide goes between two messages of a converter, in keys. */
const STEP = 2

/** Whether a string that sounds only goes on sliding: its key and its bend changed in one burst, its pitch hardly. Nothing needs to be waited for then. */
export function isSlide(state: StringsState, note: Strung, below: Strung | undefined, now: Micros): boolean {
  if (!state.isLegato || !state.isMono || !below || below.key === note.key || note.endedAt !== null)
    return false
  // After an end it is a note of its own that happens to be where the slide came to, unless it came there by a step.
  const isStep = Math.abs(below.key - note.key) <= STEP
  if (below.endedAt !== null && (note.onset - below.endedAt > BURST || !isStep)) return false
  if (now - note.onset > BURST || note.joined > 0) return false
  const told = glideOf(state, note.channel).target
  const sent = sentBend(state, note.channel)
  const moved = centsOfKey(note.key) + sent - centsOfKey(below.key) - told
  return sent !== told && Math.abs(moved) <= NEAR
}

/** A bend of its own has come to a note that has yet to be decided: a slide begins at once. */
export function slideDue(state: StringsState, channel: Channel, now: Micros): StringsState {
  const note = state.notes.find((one) => one.id === 0 && one.channel === channel)
  if (!note || !state.isMono) return state
  const below = state.notes.find(({ id }) => id !== 0 && id === note.over)
  if (!isSlide(state, note, below, now)) return state
  const notes = state.notes.map((one) => (one === note ? { ...note, until: now, isLegato: true } : one))
  return { ...state, notes }
}

/** A note begins: the string's bend is its own from the start. Where other notes sound on the channel, they are bent on as they were. */
export function bendAtOnce(state: StringsState, channel: Channel, note: NoteId): Change {
  const isAlone = !state.notes.some((one) => one.channel === channel && one.id !== 0 && one.id !== note)
  return isAlone ? put(state, channel, jumpTo(sentBend(state, channel)), null) : { state, out: [] }
}

/** Brings the bends on: what was sent goes on its way as soon as it is known whose it is, what is on its way is told where it is due. */
export function moveBends({ state, out }: Change, now: Micros): Change {
  let next = state
  const events: PlayerEvent[] = [...out]
  for (const channel of state.channels) {
    const moved = moveBend(next, channel, now)
    next = moved.state
    events.push(...moved.out)
  }
  return { state: next, out: events }
}

function moveBend(state: StringsState, channel: Channel, now: Micros): Change {
  const glide = glideOf(state, channel)
  const sent = sentBend(state, channel)
  const since = state.leaps[channel - 1] ?? null
  const span = state.bendSmooth
  if (sent === glide.target) return put(state, channel, stepGlide(glide, now, span), null)
  const notes = state.notes.filter((one) => one.channel === channel)
  const sounding = notes.filter(({ id }) => id !== 0)
  if (sounding.length === 0 || correctsOctave(state, sounding, sent - glide.target, now))
    return put(state, channel, jumpTo(sent), null)
  if (state.isMono) {
    // It is the new note's, and comes with it.
    if (notes.length > sounding.length) return put(state, channel, stepGlide(glide, now, span), null)
    const isLeap = Math.abs(sent - glide.target) >= LEAP
    if (isLeap && (since === null || now - since < BURST))
      return put(state, channel, stepGlide(glide, now, span), since ?? now)
  }
  const at = since ?? now
  return put(state, channel, stepGlide(glideTo(glide, sent, at, now, span), now, span), null)
}

/** The converter found the octave and says so by the bend: nothing is on its way, it was wrong. */
function correctsOctave(
  state: StringsState,
  sounding: readonly Strung[],
  moved: Cents,
  now: Micros,
): boolean {
  return (
    Math.abs(Math.abs(moved) - centsOfKey(OCTAVE)) <= NEAR &&
    sounding.every(({ onset }) => now - onset < state.octaveGuard)
  )
}

function put(state: StringsState, channel: Channel, glide: Glide, leap: Micros | null): Change {
  const before = glideOf(state, channel)
  const glides = glide === before ? state.glides : state.glides.with(channel - 1, glide)
  const leaps =
    (state.leaps[channel - 1] ?? null) === leap ? state.leaps : state.leaps.with(channel - 1, leap)
  const next = glides === state.glides && leaps === state.leaps ? state : { ...state, glides, leaps }
  return {
    state: next,
    out: glide.said === before.said ? [] : [{ kind: 'bend', channel, cents: glide.said }],
  }
}

/** When a bend is to be looked at next. */
export function bendsDue({ glides, leaps }: StringsState): Micros {
  let due = Infinity
  for (const { dueAt } of glides) if (dueAt !== null) due = Math.min(due, dueAt)
  for (const since of leaps) if (since !== null) due = Math.min(due, since + BURST)
  return due
}

function glideOf({ glides }: StringsState, channel: Channel): Glide {
  return glides[channel - 1] ?? STRAIGHT
}

function sentBend({ bends }: StringsState, channel: Channel): Cents {
  const bend = bends[channel - 1]
  return bend ? centsOf(bend) : 0
}
