import { z } from 'zod'
import type { LampId } from '../domain/ids.ts'
import type { Intent } from '../domain/intent.ts'
import type { Note, PartEvent } from '../domain/part-event.ts'
import { LAMP } from '../domain/schema.ts'
import type { Micros } from '../domain/units.ts'
import { MICROS_PER_MS } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import { follow, startBeatClock, timeOfBeat } from '../time/beat-clock.ts'
import { msToMicros, NOTE_VALUE, parseDuration } from '../time/beats.ts'
import { darken } from './darken.ts'
import type { Held } from './priority.ts'
import { chosen, hold, prioritySchema, sameVoice } from './priority.ts'
import type { Refusals } from './refusals.ts'
import { NO_REFUSALS, wasRefused, withRefusal } from './refusals.ts'
import type { LampView, Strategy, StrategyStep } from './strategy.ts'
import { roundOf, shuffledRound, WAYS } from './travel-path.ts'
import { voiceOf } from './voice.ts'

const noteValue = z
  .string()
  .refine((text) => parseDuration(text) !== undefined, { error: 'expected a note value such as "1/16"' })
  .meta(NOTE_VALUE)

const options = z.strictObject({
  path: z
    .union([z.enum(WAYS), z.array(z.string().meta(LAMP)).min(1)])
    .default('forward')
    .describe('The way over the lamps, or the lamps by id in the order they are visited'),
  move: z
    .union([
      z.literal('note'),
      z.strictObject({ every: noteValue }),
      z.strictObject({
        everyMs: z
          .number()
          .min(1)
          .max(600_000)
          .meta({ examples: [250] }),
      }),
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
  /** Lamps where the voice has ended: until it moves, it is so much narrower. */
  readonly ended: readonly number[]
  /** Lamps left that still sound, and until when. */
  readonly leaving: readonly { readonly lamp: number; readonly until: Micros }[]
  /** Moves are counted from here: move n is due n paces later, rounded only there, so that rounding never adds up. */
  readonly anchor: Micros
  readonly moves: number
  /** Of a voice that moves with the beats: they are counted from when it set off. */
  readonly beats: BeatClock
  readonly refusals: Refusals
}

/** One voice that moves over the lamps. */
export const travel: Strategy<State, Options> = {
  kind: 'travel',
  about: 'One note at a time that wanders from lamp to lamp, with each new note or by the clock.',
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
    ended: [],
    leaving: [],
    anchor: 0,
    moves: 0,
    beats: { at: 0, beats: 0, tempo: 0 },
    refusals: NO_REFUSALS,
  }),
  step(state, event, view, now) {
    // What is due at this moment goes before what happens in it.
    const due = catchUp(state, view, now)
    const next = happen(due.state, event, view, now)
    return { state: next.state, intents: [...due.intents, ...next.intents], wake: nextWake(next.state) }
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
    case 'refused': {
      const index = view.lamps.indexOf(event.lamp)
      const refusals = withRefusal(state.refusals, event.id, index, now)
      return settle(forget({ ...state, refusals }, index), view, now)
    }
    case 'lost':
      return event.ends
        ? endOn(state, view.lamps.indexOf(event.lamp), view)
        : settle(forget(state, view.lamps.indexOf(event.lamp)), view, now)
    case 'gained':
      // A voice that has all its width stays where it is.
      return state.on.length < widthOf(state) ? settle(state, view, now) : { state, intents: [] }
    case 'wake':
      return { state, intents: [] }
    case 'tempo':
      return catchUp({ ...state, beats: follow(state.beats, view.time, now, event.hasJumped) }, view, now)
    default:
      return play(state, event, view, now)
  }
}

function play(state: State, event: PartEvent, view: LampView, now: Micros): StrategyStep<State> {
  const held = hold(state.held, event)
  const sounding = chosen(held, state.options.priority)
  if (sameVoice(sounding, state.sounding)) return { state: { ...state, held, sounding }, intents: [] }
  const isOther = sounding?.id !== state.sounding?.id
  const before = { ...state, held, sounding, ended: isOther ? [] : state.ended }
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

/** A voice that moves in time starts its way anew whenever it begins out of silence; only a shuffle goes on, or short notes would share one lamp. */
function setOff(state: State, view: LampView, now: Micros): State {
  const position = state.options.path === 'shuffle' ? state.position : -1
  return advance({ ...state, position, anchor: now, moves: 0, beats: startBeatClock(view.time, now) }, view)
}

/** Leaves the lamps whose overlap is over, and makes the moves that are due. */
function catchUp(state: State, view: LampView, now: Micros): StrategyStep<State> {
  const over = state.leaving.filter(({ until }) => until <= now)
  const intents = over.flatMap(({ lamp }) => darken(view, lamp))
  let next = over.length > 0 ? { ...state, leaving: state.leaving.filter(({ until }) => until > now) } : state
  while (nextMove(next) <= now) {
    const moved = settle(advance({ ...next, moves: next.moves + 1 }, view), view, now)
    next = moved.state
    intents.push(...moved.intents)
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
    if (view.usable(round[position] ?? -1)) return { ...state, position, round, seed, ended: [] }
  }
  return state
}

/** Lights the lamps that the voice now covers and leaves the others. `revoiced`: those covered before have a new note. */
function settle(state: State, view: LampView, now: Micros, revoiced = false): StrategyStep<State> {
  if (state.sounding === null) return { state, intents: [] }
  const { cover, position } = covered(state, view, now)
  const left = state.on.filter((lamp) => !cover.includes(lamp))
  const overlap = msToMicros(state.options.overlapMs)
  const intents: Intent[] = overlap > 0 ? [] : left.flatMap((lamp) => darken(view, lamp))
  for (const lamp of cover) {
    const strike = !state.on.includes(lamp)
    const id = view.lamps[lamp]
    if (id !== undefined && (strike || revoiced))
      intents.push({ kind: 'light', lamp: id, voice: voiceOf(state.sounding), strike })
  }
  const leaving = state.leaving.filter(({ lamp }) => !cover.includes(lamp))
  if (overlap > 0) leaving.push(...left.map((lamp) => ({ lamp, until: now + overlap })))
  return { state: { ...state, on: cover, position, leaving }, intents }
}

/** The next different lamps of the round that may be used, as many as the voice is wide, from the voice's place on; its place is where they begin. */
function covered(state: State, view: LampView, now: Micros): { cover: number[]; position: number } {
  const { round, sounding, refusals, ended } = state
  const width = widthOf(state)
  const cover: number[] = []
  let position = state.position
  for (let step = 0; step < round.length && cover.length < width; step++) {
    const place = (Math.max(0, state.position) + step) % round.length
    const lamp = round[place] ?? -1
    if (cover.includes(lamp) || ended.includes(lamp) || !view.usable(lamp)) continue
    if (sounding && wasRefused(refusals, sounding.id, lamp, now)) continue
    if (cover.length === 0) position = place
    cover.push(lamp)
  }
  return { cover, position }
}

function silence(state: State, view: LampView): StrategyStep<State> {
  const lit = [...state.on, ...state.leaving.map(({ lamp }) => lamp)]
  return {
    state: { ...state, on: [], ended: [], leaving: [] },
    intents: lit.flatMap((lamp) => darken(view, lamp)),
  }
}

function widthOf({ options, ended }: State): number {
  return options.width - ended.length
}

/** What sounded on the lamp ends: the voice does without it until it moves; on its last lamp it is over, with the notes held under it. */
function endOn(state: State, lamp: number, view: LampView): StrategyStep<State> {
  const next = forget(state, lamp)
  if (!state.on.includes(lamp)) return { state: next, intents: [] }
  if (next.on.length > 0) return { state: { ...next, ended: [...state.ended, lamp] }, intents: [] }
  return silence({ ...next, held: [], sounding: null }, view)
}

function forget(state: State, lamp: number): State {
  return {
    ...state,
    on: state.on.filter((one) => one !== lamp),
    leaving: state.leaving.filter((one) => one.lamp !== lamp),
  }
}

/** When the next move is due; Infinity for none. */
function nextMove({ options: { move }, sounding, anchor, moves, beats }: State): number {
  if (move === 'note' || sounding === null) return Infinity
  if ('everyMs' in move) return anchor + Math.round((moves + 1) * move.everyMs * MICROS_PER_MS)
  return timeOfBeat(beats, (moves + 1) * (parseDuration(move.every) ?? 1))
}

function nextWake(state: State): Micros | undefined {
  const wake = Math.min(nextMove(state), ...state.leaving.map(({ until }) => until))
  return wake === Infinity ? undefined : wake
}
