import { z } from 'zod'
import type { NoteId } from '../domain/ids.ts'
import type { Intent } from '../domain/intent.ts'
import type { Note, PartEvent } from '../domain/part-event.ts'
import type { Key, Micros } from '../domain/units.ts'
import { MICROS_PER_MS } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import { follow, startBeatClock, timeOfBeat } from '../time/beat-clock.ts'
import { NOTE_VALUE, parseDuration } from '../time/beats.ts'
import type { Held } from './priority.ts'
import { chosen, hold, prioritySchema, sameVoice } from './priority.ts'
import type { Refusals } from './refusals.ts'
import { NO_REFUSALS, wasRefused, withRefusal } from './refusals.ts'
import type { LampView, Strategy, StrategyStep } from './strategy.ts'
import { voiceOf } from './voice.ts'

const options = z.strictObject({
  delay: z
    .string()
    .refine((text) => parseDuration(text) !== undefined, { error: 'expected a note value such as "1/8"' })
    .default('1/8')
    .describe('Each lamp answers the one before after this note value, at the song tempo')
    .meta(NOTE_VALUE),
  delayMs: z
    .number()
    .min(0)
    .max(60_000)
    .optional()
    .describe('The same in milliseconds; given, it stands in place of delay')
    .meta({ examples: [250] }),
  priority: prioritySchema,
})
type Options = z.output<typeof options>

/** A change in the line; lamp k comes to it k delays later. */
interface Turn {
  readonly at: Micros
  /** Beats since then. */
  readonly beats: BeatClock
  readonly note: Note | null
  readonly strike: boolean
}

interface State {
  readonly options: Options
  readonly held: Held
  /** What the line is at; the first lamp has it, the others will. */
  readonly sounding: Note | null
  /** Turns that some lamp has still to come to, and how many came before them. */
  readonly turns: readonly Turn[]
  readonly dropped: number
  /** Per lamp: how many turns it has come to, counted from the beginning. */
  readonly done: readonly number[]
  /** Per lamp: the note its line is at, lit or not. */
  readonly at: readonly (Note | null)[]
  /** Per lamp: whether it is lit by this part. */
  readonly lit: readonly boolean[]
  /** Per lamp: the note that has ended there for good, 0 for none. */
  readonly ended: readonly NoteId[]
  readonly refusals: Refusals
}

/** Lamp k repeats the line k times `delay` later. */
export const canon: Strategy<State, Options> = {
  kind: 'canon',
  about: 'Each lamp plays what the lamp before it played, a while later.',
  options,
  start: (chosenOptions, lamps) => ({
    options: chosenOptions,
    held: [],
    sounding: null,
    turns: [],
    dropped: 0,
    done: lamps.map(() => 0),
    at: lamps.map(() => null),
    lit: lamps.map(() => false),
    ended: lamps.map(() => 0),
    refusals: NO_REFUSALS,
  }),
  step(state, event, view, now) {
    // What is due at this moment goes before what happens in it.
    const due = catchUp(state, view, now)
    const next = happen(due.state, event, view, now)
    return { state: next.state, intents: [...due.intents, ...next.intents], wake: nextWake(next.state) }
  },
}

function happen(state: State, event: PartEvent, view: LampView, now: Micros): StrategyStep<State> {
  switch (event.kind) {
    case 'refused': {
      const index = view.lamps.indexOf(event.lamp)
      const refusals = withRefusal(state.refusals, event.id, index, now)
      return { state: setLit({ ...state, refusals }, index, false), intents: [] }
    }
    case 'lost':
      return { state: lose(state, view.lamps.indexOf(event.lamp), event.ends === true), intents: [] }
    case 'gained':
      return join(state, view, view.lamps.indexOf(event.lamp), now)
    case 'all-off':
      return clear(state, view)
    case 'wake':
      return { state, intents: [] }
    case 'tempo':
      return retime(state, event.hasJumped === true, view, now)
    case 'note-rekey': {
      // A legato note is a new one of the line, to be repeated after the one before it.
      const told = event.legato ? state : correct(state, event.id, event.key)
      return catchUp(record(told, event, view, now), view, now)
    }
    default:
      return catchUp(record(state, event, view, now), view, now)
  }
}

/** A key was heard wrong: the lamps that have still to answer it need not repeat the mistake. */
function correct(state: State, id: NoteId, key: Key): State {
  const wrong = state.held.find((note) => note.id === id)?.key
  const turns = state.turns.map((turn) =>
    turn.note?.id === id && turn.note.key === wrong ? { ...turn, note: { ...turn.note, key } } : turn,
  )
  return { ...state, turns }
}

function record(state: State, event: PartEvent, view: LampView, now: Micros): State {
  const held = hold(state.held, event)
  const note = chosen(held, state.options.priority)
  if (sameVoice(note, state.sounding)) return { ...state, held }
  const turn = { at: now, beats: startBeatClock(view.time, now), note, strike: state.sounding === null }
  return { ...state, held, sounding: note, turns: [...state.turns, turn] }
}

/** What is still to be answered comes after as many beats as it would have. Where beats stand still no answer would end: all of them end now, and none that was to come does. */
function retime(state: State, hasJumped: boolean, view: LampView, now: Micros): StrategyStep<State> {
  if (state.options.delayMs !== undefined) return { state, intents: [] }
  const { time } = view
  const { state: told, intents } = time.tempo === 0 ? endAnswers(state, view) : { state, intents: [] }
  const turns = told.turns.map((turn) => ({ ...turn, beats: follow(turn.beats, time, now, hasJumped) }))
  const next = catchUp({ ...told, turns }, view, now)
  return { state: next.state, intents: [...intents, ...next.intents] }
}

/** What came while beats stood still already is to be answered all the same. */
function endAnswers(state: State, view: LampView): StrategyStep<State> {
  const moving = state.dropped + state.turns.filter(({ beats }) => beats.tempo > 0).length
  const isAnswer = (index: number): boolean => index > 0
  return {
    state: dropDone({
      ...state,
      done: state.done.map((count, index) => (isAnswer(index) ? Math.max(count, moving) : count)),
      at: state.at.map((note, index) => (isAnswer(index) ? null : note)),
      lit: state.lit.map((on, index) => on && !isAnswer(index)),
    }),
    intents: view.lamps.flatMap((lamp, index): Intent[] =>
      isAnswer(index) && state.lit[index] ? [{ kind: 'dark', lamp }] : [],
    ),
  }
}

function dueAt({ options: { delay, delayMs } }: State, { at, beats }: Turn, lamp: number): Micros {
  if (lamp === 0) return at
  if (delayMs !== undefined) return at + Math.round(lamp * delayMs * MICROS_PER_MS)
  return timeOfBeat(beats, lamp * (parseDuration(delay) ?? 0.5))
}

/** Brings every lamp to the last turn that is due for it. */
function catchUp(state: State, view: LampView, now: Micros): StrategyStep<State> {
  const done = state.done.slice()
  const at = state.at.slice()
  const lit = state.lit.slice()
  const intents: Intent[] = []
  view.lamps.forEach((lamp, index) => {
    let last: Turn | undefined
    let strike = false
    for (;;) {
      const turn = state.turns[(done[index] ?? 0) - state.dropped]
      if (!turn || dueAt(state, turn, index) > now) break
      strike = (strike || turn.strike) && turn.note !== null
      last = turn
      done[index] = (done[index] ?? 0) + 1
    }
    if (!last) return
    const note = last.note?.id === state.ended[index] ? null : last.note
    at[index] = note
    if (note && view.usable(index)) {
      intents.push({ kind: 'light', lamp, voice: voiceOf(note), strike: strike || !lit[index] })
      lit[index] = true
    } else if (lit[index]) {
      intents.push({ kind: 'dark', lamp })
      lit[index] = false
    }
  })
  return { state: dropDone({ ...state, done, at, lit }), intents }
}

/** Turns that every lamp has come to are not needed any more. */
function dropDone(state: State): State {
  const over = Math.min(...state.done) - state.dropped
  return over > 0 ? { ...state, turns: state.turns.slice(over), dropped: state.dropped + over } : state
}

/** The lamp leaves the line; where what it sounded ends, until its next turn. */
function lose(state: State, index: number, ends: boolean): State {
  const note = state.at[index]
  const next = setLit(state, index, false)
  if (!ends || !note || !state.lit[index]) return next
  return { ...next, at: state.at.with(index, null), ended: state.ended.with(index, note.id) }
}

function join(state: State, view: LampView, index: number, now: Micros): StrategyStep<State> {
  const note = state.at[index]
  const lamp = view.lamps[index]
  if (!note || lamp === undefined || state.lit[index] || !view.usable(index)) return { state, intents: [] }
  if (wasRefused(state.refusals, note.id, index, now)) return { state, intents: [] }
  return {
    state: setLit(state, index, true),
    intents: [{ kind: 'light', lamp, voice: voiceOf(note), strike: true }],
  }
}

/** Everything ends at once, also what was still to be answered. */
function clear(state: State, view: LampView): StrategyStep<State> {
  const total = state.dropped + state.turns.length
  return {
    state: {
      ...state,
      held: [],
      sounding: null,
      turns: [],
      dropped: total,
      done: state.done.map(() => total),
      at: state.at.map(() => null),
      lit: state.lit.map(() => false),
    },
    intents: view.lamps.flatMap((lamp, index): Intent[] =>
      state.lit[index] ? [{ kind: 'dark', lamp }] : [],
    ),
  }
}

function setLit(state: State, index: number, on: boolean): State {
  return index < 0 ? state : { ...state, lit: state.lit.with(index, on) }
}

/** When the first lamp that lags comes to its next turn. */
function nextWake(state: State): Micros | undefined {
  let wake = Infinity
  state.done.forEach((count, index) => {
    const turn = state.turns[count - state.dropped]
    if (turn) wake = Math.min(wake, dueAt(state, turn, index))
  })
  return wake === Infinity ? undefined : wake
}
