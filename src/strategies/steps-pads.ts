import type { Note } from '../domain/part-event.ts'
import type { Beats, Micros } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import { beatAt, startBeatClock, timeOfBeat } from '../time/beat-clock.ts'
import { darkenThose } from './steps-lamps.ts'
import type { Mover } from './steps-move.ts'
import { measured, moveRows } from './steps-move.ts'
import { playOwnNote } from './steps-own-notes.ts'
import type { ReadyPad } from './steps-ready.ts'
import type { PatternClock, StepsState } from './steps-state.ts'
import { patternOf, showing } from './steps-state.ts'
import type { LampView, StrategyStep } from './strategy.ts'

type Step = StrategyStep<StepsState>

/** What a hit does, by the key it was on. */
export function playPad(state: StepsState, note: Note, view: LampView, now: Micros): Step {
  const pad = patternOf(state).pads[String(note.key)]
  // A note held over from the song before is no hit in this one.
  if (view.isBeginning?.() && pad?.do !== 'note') return { state, intents: [] }
  switch (pad?.do) {
    case undefined:
    case 'advance':
      return advance(state, pad, note, view, now)
    case 'back':
      return moveRows(measured(heard(state, note), now), -1, 'hit', view, now)
    case 'restart':
      return restart(heard(state, note), view, now)
    case 'stop':
      return stop(state, view)
    case 'next-pattern':
      return { state: nextPattern(state, now), intents: [] }
    case 'accent':
      return { state: { ...state, accent: true }, intents: [] }
    case 'mute-row':
      return muteRow(state, pad.row, view)
    case 'note':
      return playOwnNote(state, pad, note, view, now)
  }
}

/** Where a pattern has pads to advance by, no other key does. */
function advance(
  state: StepsState,
  pad: ReadyPad | undefined,
  note: Note,
  view: LampView,
  now: Micros,
): Step {
  const pattern = patternOf(state)
  if (!pad && Object.values(pattern.pads).some((one) => one.do === 'advance')) return { state, intents: [] }
  const next = heard(state, note)
  // The clock is running: a hit only says how loud.
  if (!pad && pattern.advance === 'clock' && state.clock) return { state: next, intents: [] }
  const hit = measured(next, now)
  if (state.clock) return moveRows(hit, 1, 'hit', view, now)
  // The hit that starts the clock is its first division.
  const started = { ...hit, isToBegin: false, clock: startClock(view, now) }
  return moveRows(started, 1, pattern.advance === 'hit' ? 'hit' : firstMover(view), view, now)
}

/** Where beats stand still, none would end what this strikes. */
function firstMover({ time }: LampView): Mover {
  return time.tempo === 0 ? 'hit' : { tick: 0 }
}

function startClock({ time }: LampView, now: Micros): PatternClock {
  return { beats: startBeatClock(time, now), next: 1 }
}

/** Strikes that come are this hit's. */
function heard(state: StepsState, { id, channel, velocity, duty }: Note): StepsState {
  return { ...state, hit: { id, channel, velocity, ...(duty === undefined ? {} : { duty }) } }
}

/** Dark, nothing still to come, and before the first step; pads' own notes go on. */
function stop(state: StepsState, view: LampView): Step {
  const { lamps, intents } = darkenThose(state.lamps, view, ({ until }) => until !== null)
  const still = {
    ...state,
    lamps,
    place: null,
    offsets: [],
    clock: null,
    stopped: null,
    isToBegin: false,
    late: [],
  }
  return { state: showing({ ...still, hitAt: null, accent: false }), intents }
}

/** As after `stop`; what the clock moves begins at once, counted from here. */
function restart(state: StepsState, view: LampView, now: Micros): Step {
  const stopped = stop(state, view)
  if (patternOf(state).advance === 'hit') return stopped
  const begun = moveRows({ ...stopped.state, clock: startClock(view, now) }, 1, firstMover(view), view, now)
  return { state: begun.state, intents: [...stopped.intents, ...begun.intents] }
}

/** From its first step on with the next move; a clock that runs goes on, and the pattern comes in at its own next division. What sounds ends when it would have. */
function nextPattern(state: StepsState, now: Micros): StepsState {
  const { ready, current, lamps, late, clock } = state
  const next = {
    ...state,
    current: (current + 1) % ready.patterns.length,
    place: null,
    offsets: [],
    lamps: lamps.map((one) => one && { ...one, row: null }),
    late: late.map((one) => ({ ...one, row: null })),
  }
  return showing(clock ? { ...next, clock: nextDivision(clock, patternOf(next).division, now) } : next)
}

/** The first division after now. */
export function nextDivision({ beats }: PatternClock, division: number, now: Micros): PatternClock {
  let next = firstDivision(beats, division, now)
  // One that is due at this very time has been played.
  if (timeOfBeat(beats, next * division) <= now) next++
  return { beats, next }
}

/** The first division that is not over at a time. */
export function firstDivision(beats: BeatClock, division: Beats, now: Micros): number {
  let next = Math.max(0, Math.floor(beatAt(beats, now) / division) - 1)
  while (timeOfBeat(beats, next * division) < now || isBefore(beats, next * division)) next++
  return next
}

/** Before the beats' own place, where they stand: none of those will come. */
function isBefore({ beats, tempo }: BeatClock, beat: Beats): boolean {
  return tempo === 0 && beat < beats - 1e-6
}

/** A row that is muted is dark at once, and goes on counting. */
function muteRow(state: StepsState, row: number, view: LampView): Step {
  const muted = state.muted[state.current] ?? []
  const isMuted = muted[row] !== true
  const changed = { ...state, muted: state.muted.with(state.current, muted.with(row, isMuted)) }
  if (!isMuted) return { state: showing(changed), intents: [] }
  const { lamps, intents } = darkenThose(state.lamps, view, (one) => one.row === row)
  const late = state.late.filter((one) => one.row !== row)
  return { state: showing({ ...changed, lamps, late }), intents }
}
