import { stringsMode } from '../domain/player.ts'
import type { StringsPlayer } from '../domain/player.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Channel, Micros } from '../domain/units.ts'
import { msToMicros } from '../time/beats.ts'
import { nextDeadline } from './active-sensing.ts'
import { centreBend, centreBends, startBends, stepBends } from './channel-bend.ts'
import { jumpTo, STRAIGHT } from './glide.ts'
import type { PlayerIn } from './player-in.ts'
import { bendsDue, moveBends, slideDue } from './string-bend.ts'
import { decide } from './string-decide.ts'
import { begin, finish } from './string-onset.ts'
import type { Change, StringsState } from './strung.ts'
import { ghost } from './strung.ts'

/**
 * A string instrument behind a pitch-to-MIDI converter, a channel a string or all on one.
 *
 * - A note is held back for `minNoteMs`, and is a ghost if it ends before.
 * - Ends within `octaveGuardMs` of the onset wait for that long, so that a leap of an octave, or the same key again, is the same note; so is a leap and its return,
 *   any time.
 * - On a string of its own channel a note that begins before or as the last one ends goes on with its voice (`legato`): it has another key from then on, after
 *   `minNoteMs` as ever, or at once where key and bend change together and the pitch goes on (a slide over a semitone).
 * - Bends that come while a note is held back are that note's, and come with it. All others are told at once, or as the mean of the last `bendSmoothMs`; a leap of
 *   the bend waits up to 2 ms for the note it may belong to. None of those is told later than 5 ms after it came.
 */
export const strings: Stage<StringsPlayer, StringsState, PlayerIn, PlayerEvent> = {
  name: 'strings',
  start: (player) => ({
    channels: player.input.channels,
    isMono: stringsMode(player) === 'string-per-channel',
    isLegato: player.legato,
    range: player.bendRange,
    minNote: msToMicros(player.minNoteMs),
    octaveGuard: msToMicros(player.octaveGuardMs),
    bendSmooth: msToMicros(player.bendSmoothMs),
    nextId: 1,
    notes: [],
    bends: startBends(player.bendRange),
    glides: Array.from({ length: 16 }, () => STRAIGHT),
    leaps: Array.from({ length: 16 }, () => null),
    sensing: null,
  }),
  step(state, event, now): Step<StringsState, PlayerEvent> {
    const due = decide({ state: heard(state, event, now), out: [] }, now)
    const { state: next, out } = moveBends(happen(due, event, now), now)
    const dues = next.notes.map(({ until }) => until ?? Infinity)
    const wake = Math.min(...dues, bendsDue(next), next.sensing ?? Infinity)
    return { state: next, out, wake: wake === Infinity ? undefined : wake }
  },
}

/** A message keeps the watch on the cable going. */
function heard(state: StringsState, event: PlayerIn, now: Micros): StringsState {
  if ('kind' in event) return state
  const sensing = nextDeadline(state.sensing, event.type, now)
  return sensing === state.sensing ? state : { ...state, sensing }
}

function happen({ state, out }: Change, event: PlayerIn, now: Micros): Change {
  const next = hear(state, event, now)
  return { state: next.state, out: [...out, ...next.out] }
}

function hear(state: StringsState, event: PlayerIn, now: Micros): Change {
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
      const { bends } = stepBends(state.bends, event)
      return decide({ state: slideDue({ ...state, bends }, channel, now), out: [] }, now)
    }
    default:
      return { state, out: [] }
  }
}

function control(
  state: StringsState,
  channel: Channel,
  controller: number,
  value: number,
  now: Micros,
): Change {
  if (controller < 120) return { state, out: [{ kind: 'controller', channel, controller, value }] }
  if (controller === 121)
    return { state: { ...state, bends: centreBend(state.bends, channel).bends }, out: [] }
  if (controller === 120) {
    const over = state.notes.filter((note) => note.channel === channel)
    const out = over.flatMap((note): PlayerEvent[] =>
      note.id === 0 ? ghost(note) : [{ kind: 'note-off', note: note.id }],
    )
    return { state: { ...state, notes: state.notes.filter((note) => !over.includes(note)) }, out }
  }
  return controller >= 123 ? finish(state, (note) => note.channel === channel, now) : { state, out: [] }
}

function silence(state: StringsState): Change {
  const straight = state.channels.flatMap((channel): PlayerEvent[] =>
    state.glides[channel - 1]?.said === 0 ? [] : [{ kind: 'bend', channel, cents: 0 }],
  )
  return {
    state: {
      ...state,
      notes: [],
      bends: centreBends(state.bends),
      glides: state.glides.map(() => jumpTo(0)),
      leaps: state.leaps.map(() => null),
      sensing: null,
    },
    out: [...state.notes.filter(({ id }) => id === 0).flatMap(ghost), { kind: 'all-off' }, ...straight],
  }
}

/** System reset, MIDI 1.0 Detailed Specification: as after power-up. */
function reset(state: StringsState): Change {
  const { state: silent, out } = silence(state)
  return { state: { ...silent, bends: startBends(state.range) }, out }
}
