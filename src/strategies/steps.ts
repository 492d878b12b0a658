import { z } from 'zod'
import type { Intent } from '../domain/intent.ts'
import type { PartEvent } from '../domain/part-event.ts'
import { PATTERN } from '../domain/schema.ts'
import type { Micros } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import { follow, startBeatClock } from '../time/beat-clock.ts'
import { darkenThose, dueTime } from './steps-lamps.ts'
import { moveRows, strike } from './steps-move.ts'
import { endOwnNote, gainLamp, loseLamp } from './steps-own-notes.ts'
import { firstDivision, playPad } from './steps-pads.ts'
import type { ReadySteps } from './steps-ready.ts'
import { patternsInReach, readySteps } from './steps-ready.ts'
import { revisePatterns } from './steps-revise.ts'
import type { StepsState } from './steps-state.ts'
import { lateTime, nextTick, nextTime, patternOf, showing, startSteps } from './steps-state.ts'
import type { LampView, Strategy, StrategyStep } from './strategy.ts'

const options = z.strictObject({
  pattern: z
    .string()
    .min(1)
    .optional()
    .describe('The pattern it begins with, by id; left out: the first of the song')
    .meta(PATTERN),
  starts: z
    .enum(['hit', 'song'])
    .default('hit')
    .describe('When the clock of its patterns starts: with the first hit, or as the song begins'),
})
type Options = z.output<typeof options>

/** Rows of steps, moved by hits, by the clock, or by both. */
export const steps: Strategy<StepsState, Options, ReadySteps> = {
  kind: 'steps',
  about: 'A pattern of steps, a row for each lamp, moved on by hits or by the clock.',
  options,
  playsPatterns: true,
  prepare: readySteps,
  start: (ready, lamps) => startSteps(ready, lamps.length),
  step(state, event, view, now) {
    // What is due at this moment goes before what happens in it.
    const due = catchUp(state, view, now)
    const next = happen(due.state, event, view, now)
    return waking({ state: next.state, intents: [...due.intents, ...next.intents] }, now)
  },
  revise(state, ready, view, now) {
    const due = catchUp(state, view, now)
    const next = revisePatterns(due.state, ready, view, now)
    return waking({ state: next.state, intents: [...due.intents, ...next.intents] }, now)
  },
  wakesFirst: ({ starts }) => starts === 'song',
  runsOn: ({ patterns, first }) =>
    patternsInReach(patterns, first, ({ pads }) => Object.values(pads)).some(
      ({ advance }) => advance !== 'hit',
    ),
  progress: ({ shown }) => shown,
}

/** What an instant leaves nothing of still takes that instant. */
function waking(step: StrategyStep<StepsState>, now: Micros): StrategyStep<StepsState> {
  const wake = nextTime(step.state)
  return wake === Infinity ? step : { ...step, wake: Math.max(wake, now + 1) }
}

function happen(state: StepsState, event: PartEvent, view: LampView, now: Micros): StrategyStep<StepsState> {
  switch (event.kind) {
    case 'note-on':
      return playPad(state, event.note, view, now)
    case 'note-off':
      return endOwnNote(state, event.id, view, now)
    case 'refused':
    case 'lost':
      return { state: loseLamp(state, event, view, now), intents: [] }
    case 'gained':
      return gainLamp(state, view.lamps.indexOf(event.lamp), view, now)
    case 'all-off':
      return allOff(state, view)
    case 'tempo':
      return retime(state, event.hasJumped === true, view, now)
    case 'wake': {
      if (!state.isToBegin) return { state, intents: [] }
      const clock = { beats: startBeatClock(view.time, now), next: 0 }
      return catchUp({ ...state, isToBegin: false, clock }, view, now)
    }
    case 'note-release':
    case 'note-rekey':
      return { state, intents: [] }
  }
}

/** Beats that stand still, or are elsewhere: what would have ended on a beat ends now, and nothing that was queued comes. After a jump rows are where the song's beats have them. */
function retime(
  state: StepsState,
  hasJumped: boolean,
  view: LampView,
  now: Micros,
): StrategyStep<StepsState> {
  const { time } = view
  const clock = state.clock ?? (hasJumped ? state.stopped : null)
  if (!clock) return { state, intents: [] }
  const beats = follow(hasJumped ? { ...clock.beats, from: 0 } : clock.beats, time, now)
  if (!hasJumped && time.tempo > 0) return catchUp({ ...state, clock: { ...clock, beats } }, view, now)
  const { lamps, intents } = darkenThose(state.lamps, view, ({ until }) => until !== null && 'beat' in until)
  const still = { ...state, lamps, late: [] }
  const moved = hasJumped ? movedTo(still, beats) : { ...still, clock: { ...clock, beats } }
  const next = catchUp(moved, view, now)
  return { state: next.state, intents: [...intents, ...next.intents] }
}

/** The pattern as if it had been moved by this clock from its beat 0. */
function movedTo(state: StepsState, beats: BeatClock): StepsState {
  const next = firstDivision(beats, patternOf(state).division, beats.at)
  const isMoved = patternOf(state).advance !== 'hit'
  const place = next === 0 ? null : next - 1
  return showing({ ...state, clock: { beats, next }, ...(isMoved ? { place, offsets: [] } : {}) })
}

function allOff(state: StepsState, view: LampView): StrategyStep<StepsState> {
  const { lamps, intents } = darkenThose(state.lamps, view, () => true)
  const stopped = state.clock ?? state.stopped
  const still = { ...state, lamps, place: null, offsets: [], clock: null, stopped, late: [], own: [] }
  return { state: showing({ ...still, isToBegin: false, hitAt: null, accent: false }), intents }
}

/** All that is due up to now, in order of time; at one time strikes end first, then late ones come, then the clock moves on. */
function catchUp(state: StepsState, view: LampView, now: Micros): StrategyStep<StepsState> {
  const intents: Intent[] = []
  let next = state
  for (let at = nextTime(next); at <= now; at = nextTime(next)) {
    const ended = endGates(next, view, at)
    const late = strikeLate(ended.state, view, at)
    const moved = tick(late.state, view, at)
    next = moved.state
    intents.push(...ended.intents, ...late.intents, ...moved.intents)
  }
  return { state: next, intents }
}

function endGates(state: StepsState, view: LampView, at: Micros): StrategyStep<StepsState> {
  const beats = state.clock?.beats ?? null
  const { lamps, intents } = darkenThose(state.lamps, view, ({ until }) => dueTime(until, beats) <= at)
  return { state: { ...state, lamps }, intents }
}

function strikeLate(state: StepsState, view: LampView, at: Micros): StrategyStep<StepsState> {
  const due = state.late.filter((one) => lateTime(state, one) <= at)
  if (due.length === 0) return { state, intents: [] }
  return strike({ ...state, late: state.late.filter((one) => !due.includes(one)) }, due, view)
}

function tick(state: StepsState, view: LampView, at: Micros): StrategyStep<StepsState> {
  const { clock } = state
  if (!clock || nextTick(state) > at) return { state, intents: [] }
  return moveRows({ ...state, clock: { ...clock, next: clock.next + 1 } }, 1, { tick: clock.next }, view, at)
}
