import type { NoteId } from '../domain/ids.ts'
import type { StringsPlayer } from '../domain/player.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Channel, Key, Micros, Velocity } from '../domain/units.ts'
import { msToMicros } from '../time/beats.ts'
import type { SensingDeadline } from './active-sensing.ts'
import { nextDeadline } from './active-sensing.ts'
import type { ChannelBend } from './channel-bend.ts'
import { centreBend, centreBends, startBends, stepBends } from './channel-bend.ts'
import type { PlayerIn } from './player-in.ts'

/** A note of the converter, from its first guess on. */
interface Strung {
  /** 0 until it has lasted long enough to be a note. */
  readonly id: NoteId
  readonly channel: Channel
  readonly key: Key
  readonly velocity: Velocity
  readonly onset: Micros
  /** Note-ons that turned out to be this same strike, before it began. */
  readonly joined: number
  /** The converter has ended it; it lasts until `until` in case the converter thinks again. */
  readonly ended: boolean
  /** When it is decided: a new note whether it is one, an ended note that it is over. Null: nothing is open. */
  readonly until: Micros | null
}

export interface StringsState {
  readonly channels: readonly Channel[]
  readonly range: number
  readonly minNote: Micros
  readonly octaveGuard: Micros
  readonly nextId: NoteId
  readonly notes: readonly Strung[]
  readonly bends: readonly ChannelBend[]
  readonly sensing: SensingDeadline
}

/**
 * How long an end waits for the onset that takes the string over. A converter sends the two in one burst, an off and an on of 0.96 ms each
 * on the wire (MIDI 1.0 Detailed Specification: 31,250 baud).
 */
const LEGATO_WAIT: Micros = 2_000

/**
 * A string instrument behind a pitch-to-MIDI converter. A note is held back for `minNoteMs`, and is a ghost if it ends before; ends within
 * `octaveGuardMs` of the onset wait for that long, so that a leap of an octave, or the same key again, is the same note. With several
 * channels each is a string and sounds one note; with one channel every key is on its own.
 */
export const strings: Stage<StringsPlayer, StringsState, PlayerIn, PlayerEvent> = {
  name: 'strings',
  start: (player) => ({
    channels: player.input.channels,
    range: player.bendRange,
    minNote: msToMicros(player.minNoteMs),
    octaveGuard: msToMicros(player.octaveGuardMs),
    nextId: 1,
    notes: [],
    bends: startBends(player.bendRange),
    sensing: null,
  }),
  step(state, event, now): Step<StringsState, PlayerEvent> {
    const due = decide({ state: heard(state, event, now), out: [] }, now)
    const next = happen(due.state, event, now)
    const dues = next.state.notes.map(({ until }) => until ?? Infinity)
    const wake = Math.min(...dues, next.state.sensing ?? Infinity)
    return {
      state: next.state,
      out: [...due.out, ...next.out],
      wake: wake === Infinity ? undefined : wake,
    }
  },
}

/** A message keeps the watch on the cable going. */
function heard(state: StringsState, event: PlayerIn, now: Micros): StringsState {
  if ('kind' in event) return state
  const sensing = nextDeadline(state.sensing, event.type, now)
  return sensing === state.sensing ? state : { ...state, sensing }
}

type Change = { readonly state: StringsState; readonly out: readonly PlayerEvent[] }

function happen(state: StringsState, event: PlayerIn, now: Micros): Change {
  if ('kind' in event) {
    const isCableOut = state.sensing !== null && state.sensing <= now
    return event.kind === 'all-off' || isCableOut ? silence(state) : { state, out: [] }
  }
  if (event.type === 'reset') return reset(state)
  if (!('channel' in event) || !state.channels.includes(event.channel)) return { state, out: [] }
  const { channel } = event
  switch (event.type) {
    case 'note-on':
      return decide(begin(state, channel, event.key, event.velocity, now), now)
    case 'note-off':
      return finish(state, (note) => note.channel === channel && note.key === event.key, now)
    case 'controller':
      return control(state, channel, event.controller, event.value, now)
    case 'bend':
    case 'parameter': {
      const { bends, event: moved } = stepBends(state.bends, event)
      return { state: { ...state, bends }, out: moved ? [moved] : [] }
    }
    default:
      return { state, out: [] }
  }
}

function begin(state: StringsState, channel: Channel, key: Key, velocity: Velocity, now: Micros): Change {
  const same = state.notes.findIndex((note) => continues(state, note, channel, key, now))
  const note = state.notes[same]
  if (note) {
    // The converter thought again: the same strike, perhaps an octave off before.
    const until = note.id === 0 ? note.onset + state.minNote : null
    const joined = note.id === 0 ? note.joined + 1 : 0
    const notes = state.notes.with(same, { ...note, key, ended: false, until, joined })
    if (note.id === 0) return { state: { ...state, notes }, out: [] }
    const rekey: PlayerEvent[] = note.key === key ? [] : [{ kind: 'note-rekey', note: note.id, key }]
    return { state: { ...state, notes }, out: [...rekey, joinedTo({ ...note, key })] }
  }
  const [stay, ghosts] = partition(
    state.notes,
    (one) => one.id !== 0 || !isSameString(state, one, channel, key),
  )
  const fresh: Strung = {
    id: 0,
    channel,
    key,
    velocity,
    onset: now,
    joined: 0,
    ended: false,
    until: now + state.minNote,
  }
  return { state: { ...state, notes: [...stay, fresh] }, out: ghosts.flatMap(ghost) }
}

function continues(state: StringsState, note: Strung, channel: Channel, key: Key, now: Micros): boolean {
  if (note.channel !== channel || now - note.onset >= state.octaveGuard) return false
  if (note.key === key) return note.ended
  return Math.abs(note.key - key) === 12 && (note.ended || isMono(state))
}

/** On a string of its own channel a new note replaces the one before; on one channel for all, only the same key does. */
function isSameString(state: StringsState, note: Strung, channel: Channel, key: Key): boolean {
  return note.channel === channel && (isMono(state) || note.key === key)
}

function isMono(state: StringsState): boolean {
  return state.channels.length > 1
}

function finish(state: StringsState, which: (note: Strung) => boolean, now: Micros): Change {
  const notes = state.notes.map((note) => {
    if (!which(note) || note.ended) return note
    if (note.id === 0) return { ...note, ended: true }
    return { ...note, ended: true, until: Math.max(now + LEGATO_WAIT, note.onset + state.octaveGuard) }
  })
  return { state: { ...state, notes }, out: [] }
}

/** Settles what is due: new notes first, since an ended one waits for what follows it. */
function decide(change: Change, now: Micros): Change {
  return endDue(beginDue(change, now), now)
}

/** Notes that lasted begin; ghosts are dropped. */
function beginDue({ state, out }: Change, now: Micros): Change {
  const events: PlayerEvent[] = [...out]
  let { nextId, notes } = state
  for (const note of state.notes) {
    if (note.id !== 0 || note.until === null || note.until > now) continue
    if (note.ended) {
      events.push(...ghost(note))
      notes = notes.filter((one) => one !== note)
      continue
    }
    // What sounded on this string before ends now, not when the converter said so: no gap in a legato line.
    const [stay, replaced] = partition(
      notes,
      (one) => one.id === 0 || !isSameString(state, one, note.channel, note.key),
    )
    events.push(...replaced.map(({ id }): PlayerEvent => ({ kind: 'note-off', note: id })))
    const id = nextId++
    events.push({ kind: 'note-on', note: id, key: note.key, channel: note.channel, velocity: note.velocity })
    events.push(...Array.from({ length: note.joined }, () => joinedTo({ ...note, id })))
    notes = stay.map((one) => (one === note ? { ...note, id, until: null } : one))
  }
  return { state: { ...state, nextId, notes }, out: events }
}

/** Notes that ended are over, unless a note on the same string is still to be decided: then they last until it is. */
function endDue({ state, out }: Change, now: Micros): Change {
  const events: PlayerEvent[] = [...out]
  const notes = state.notes.flatMap((note) => {
    if (note.id === 0 || note.until === null || note.until > now) return [note]
    const follower = state.notes.find(
      (one) => one.id === 0 && isSameString(state, one, note.channel, note.key),
    )
    if (follower) return [{ ...note, until: follower.until }]
    events.push({ kind: 'note-off', note: note.id })
    return []
  })
  return { state: { ...state, notes }, out: events }
}

function control(
  state: StringsState,
  channel: Channel,
  controller: number,
  value: number,
  now: Micros,
): Change {
  if (controller < 120) return { state, out: [{ kind: 'controller', channel, controller, value }] }
  if (controller === 121) {
    const { bends, event } = centreBend(state.bends, channel)
    return { state: { ...state, bends }, out: event ? [event] : [] }
  }
  if (controller === 120) {
    const [stay, over] = partition(state.notes, (note) => note.channel !== channel)
    const out = over.flatMap((note): PlayerEvent[] =>
      note.id === 0 ? ghost(note) : [{ kind: 'note-off', note: note.id }],
    )
    return { state: { ...state, notes: stay }, out }
  }
  return controller >= 123 ? finish(state, (note) => note.channel === channel, now) : { state, out: [] }
}

function silence(state: StringsState): Change {
  const straight = state.channels.flatMap((channel): PlayerEvent[] => {
    const { event } = centreBend(state.bends, channel)
    return event ? [event] : []
  })
  return {
    state: { ...state, notes: [], bends: centreBends(state.bends), sensing: null },
    out: [...state.notes.filter(({ id }) => id === 0).flatMap(ghost), { kind: 'all-off' }, ...straight],
  }
}

/** System reset, MIDI 1.0 Detailed Specification: as after power-up. */
function reset(state: StringsState): Change {
  const { state: silent, out } = silence(state)
  return { state: { ...silent, bends: startBends(state.range) }, out }
}

/** One for each note-on that went into it. */
function ghost({ key, channel, joined }: Strung): PlayerEvent[] {
  return Array.from({ length: joined + 1 }, () => ({ kind: 'dropped', key, channel, why: 'ghost' }) as const)
}

function joinedTo({ id, key, channel }: Strung): PlayerEvent {
  return { kind: 'joined', note: id, key, channel }
}

function partition<T>(all: readonly T[], keep: (one: T) => boolean): [T[], T[]] {
  const kept: T[] = []
  const rest: T[] = []
  for (const one of all) (keep(one) ? kept : rest).push(one)
  return [kept, rest]
}
