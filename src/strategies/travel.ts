import { z } from 'zod'
import type { LampId } from '../domain/ids.ts'
import type { Intent } from '../domain/intent.ts'
import type { Note, PartEvent } from '../domain/part-event.ts'
import type { Bpm, Micros } from '../domain/units.ts'
import { msToMicros, parseDuration } from '../time/beats.ts'
import { paceMicros } from '../time/pace.ts'
import type { Held } from './priority.ts'
import { chosen, hold, prioritySchema, sameVoice } from './priority.ts'
import type { LampView, Strategy, StrategyStep } from './strategy.ts'
import { roundOf, shuffledRound, WAYS } from './travel-path.ts'
import { voiceOf } from './voice.ts'

const noteValue = z
  .string()
  .refine((text) => parseDuration(text) !== undefined, { error: 'expected a note value such as "1/16"' })

const options = z.strictObject({
  path: z
    .union([z.enum(WAYS), z.array(z.string()).min(1)])
    .default('forward')
    .describe('The way over the lamps, or the lamps by id in the order they are visited'),
  move: z
    .union([
      z.literal('note'),
      z.strictObject({ every: noteValue }),
      z.strictObject({ everyMs: z.number().min(1).max(600_000) }),
    ])
    .default('note')
    .describe('Moves with each new note, every note value at the song tempo, or every so many milliseconds'),
  width: z.number().int().min(1).max(512).default(1).describe('How many lamps the voice covers at once'),
  overlapMs: z
    .number()
    .min(0)
    .max(60_000)
    .default(0)
    .describe('How long a lamp that is left goes on sounding'),
  priority: prioritySchema,
})
type Options = z.output<typeof options>

interface State {
  readonly options: Options
  readonly held: Held
  readonly sounding: Note | null
  /** One round of the way, as lamp places; shuffled anew each round where `path` says so. */
  readonly round: readonly number[]
  readonly seed: number
  /** Where in the round the voice is; -1 before its first note. */
  readonly position: number
  /** Lamps the voice is on. */
  readonly on: readonly number[]
  /** Lamps left that still sound, and until when. */
  readonly leaving: readonly { readonly lamp: number; readonly until: Micros }[]
  /** Moves are counted from here: move n is due at anchor + n x pace, so that rounding never adds up. */
  readonly anchor: Micros
  readonly moves: number
  readonly tempo: Bpm
}

/** One voice that moves over the lamps. */
export const travel: Strategy<State, Options> = {
  kind: 'travel',
  options,
  check: ({ path, width }, lamps) => [
    ...(Array.isArray(path)
      ? path
          .filter((id) => !lamps.includes(id))
          .map((id) => ({ option: 'path', message: `lamp "${id}" is not among the part's lamps` }))
      : []),
    ...(width > lamps.length
      ? [{ option: 'width', message: `${width} lamps wide, but the part has ${lamps.length}` }]
      : []),
  ],
  start: (chosenOptions, lamps) => ({
    options: chosenOptions,
    held: [],
    sounding: null,
    ...firstRound(chosenOptions.path, lamps),
    position: -1,
    on: [],
    leaving: [],
    anchor: 0,
    moves: 0,
    tempo: 0,
  }),
  step(state, event, view, now) {
    const next = happen(state, event, view, now)
    return { ...next, wake: nextWake(next.state, view.tempo) }
  },
}

function firstRound(
  path: Options['path'],
  lamps: readonly LampId[],
): { round: readonly number[]; seed: number } {
  if (Array.isArray(path)) return { round: path.map((id) => lamps.indexOf(id)), seed: 0 }
  return path === 'shuffle'
    ? shuffledRound(lamps.length, undefined, 1)
    : { round: roundOf(path, lamps.length), seed: 0 }
}

function happen(state: State, event: PartEvent, view: LampView, now: Micros): StrategyStep<State> {
  switch (event.kind) {
    case 'refused':
      return { state: forget(state, view.lamps.indexOf(event.lamp)), intents: [] }
    case 'lost':
      return settle(forget(state, view.lamps.indexOf(event.lamp)), view, now)
    case 'gained':
      return settle(state, view, now)
    case 'wake':
      return wake(state, view, now)
    case 'tempo':
      // Go on from the last move at the new pace.
      return { state: repace(state, view.tempo), intents: [] }
    default:
      return play(state, event, view, now)
  }
}

function play(state: State, event: PartEvent, view: LampView, now: Micros): StrategyStep<State> {
  const held = hold(state.held, event)
  const sounding = chosen(held, state.options.priority)
  if (sameVoice(sounding, state.sounding)) return { state: { ...state, held, sounding }, intents: [] }
  const before = { ...state, held, sounding }
  if (sounding === null) return silence(before, view)
  const isNew = event.kind === 'note-on' && event.note.id === sounding.id
  const moved =
    state.options.move === 'note'
      ? isNew
        ? advance(before, view)
        : before
      : state.sounding === null
        ? setOff(before, view, now)
        : before
  return settle(moved, view, now, true)
}

/** A voice that moves in time starts its way anew whenever it begins out of silence. */
function setOff(state: State, view: LampView, now: Micros): State {
  return advance({ ...state, position: -1, anchor: now, moves: 0, tempo: view.tempo }, view)
}

function wake(state: State, view: LampView, now: Micros): StrategyStep<State> {
  const intents: Intent[] = []
  let next = state
  for (const { lamp, until } of state.leaving) {
    if (until <= now) intents.push(...dark(view, lamp))
  }
  if (intents.length > 0) next = { ...next, leaving: next.leaving.filter(({ until }) => until > now) }
  if (isTimed(next) && next.sounding !== null && dueAt(next, next.moves + 1, next.tempo) <= now) {
    const moved = settle(advance({ ...next, moves: next.moves + 1 }, view), view, now)
    return { state: moved.state, intents: [...intents, ...moved.intents] }
  }
  return { state: next, intents }
}

/** On to the next lamp of the way that may be used; where none may, the place stays. */
function advance(state: State, view: LampView): State {
  let { position, round, seed } = state
  for (let tries = 0; tries <= 2 * state.round.length; tries++) {
    position++
    if (position >= round.length) {
      position = 0
      if (state.options.path === 'shuffle')
        ({ round, seed } = shuffledRound(round.length, round.at(-1), seed))
    }
    if (view.usable(round[position] ?? -1)) return { ...state, position, round, seed }
  }
  return state
}

/** Lights the lamps that the voice now covers and leaves the others. `revoiced`: those covered before have a new note. */
function settle(state: State, view: LampView, now: Micros, revoiced = false): StrategyStep<State> {
  if (state.sounding === null) return { state, intents: [] }
  const cover = covered(state, view)
  const left = state.on.filter((lamp) => !cover.includes(lamp))
  const overlap = msToMicros(state.options.overlapMs)
  const intents: Intent[] = overlap > 0 ? [] : left.flatMap((lamp) => dark(view, lamp))
  for (const lamp of cover) {
    const strike = !state.on.includes(lamp)
    const id = view.lamps[lamp]
    if (id !== undefined && (strike || revoiced))
      intents.push({ kind: 'light', lamp: id, voice: voiceOf(state.sounding), strike })
  }
  const leaving = state.leaving.filter(({ lamp }) => !cover.includes(lamp))
  if (overlap > 0) leaving.push(...left.map((lamp) => ({ lamp, until: now + overlap })))
  return { state: { ...state, on: cover, leaving }, intents }
}

/** The next `width` different usable lamps of the round, from the voice's place on. */
function covered(state: State, view: LampView): number[] {
  const cover: number[] = []
  for (let step = 0; step < state.round.length && cover.length < state.options.width; step++) {
    const lamp = state.round[(Math.max(0, state.position) + step) % state.round.length] ?? -1
    if (!cover.includes(lamp) && view.usable(lamp)) cover.push(lamp)
  }
  return cover
}

function silence(state: State, view: LampView): StrategyStep<State> {
  const lit = [...state.on, ...state.leaving.map(({ lamp }) => lamp)]
  return { state: { ...state, on: [], leaving: [] }, intents: lit.flatMap((lamp) => dark(view, lamp)) }
}

function forget(state: State, lamp: number): State {
  return {
    ...state,
    on: state.on.filter((one) => one !== lamp),
    leaving: state.leaving.filter((one) => one.lamp !== lamp),
  }
}

function dark(view: LampView, index: number): Intent[] {
  const lamp = view.lamps[index]
  return lamp === undefined ? [] : [{ kind: 'dark', lamp }]
}

function repace(state: State, tempo: Bpm): State {
  if (state.sounding === null) return state
  return { ...state, anchor: dueAt(state, state.moves, state.tempo), moves: 0, tempo }
}

function isTimed(state: State): boolean {
  return state.options.move !== 'note'
}

function dueAt(state: State, move: number, tempo: Bpm): Micros {
  const { move: pace } = state.options
  return pace === 'note' ? state.anchor : state.anchor + Math.round(move * paceMicros(pace, tempo))
}

function nextWake(state: State, tempo: Bpm): Micros | undefined {
  let wake = Infinity
  if (isTimed(state) && state.sounding !== null) wake = dueAt(state, state.moves + 1, state.tempo || tempo)
  for (const { until } of state.leaving) wake = Math.min(wake, until)
  return wake === Infinity ? undefined : wake
}
