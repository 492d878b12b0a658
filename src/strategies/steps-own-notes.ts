import type { NoteId } from '../domain/ids.ts'
import type { Note, PartEvent } from '../domain/part-event.ts'
import type { Micros } from '../domain/units.ts'
import { wasRefused, withRefusal } from './refusals.ts'
import { darkenThose } from './steps-lamps.ts'
import { strike } from './steps-move.ts'
import type { ReadyPad } from './steps-ready.ts'
import type { OwnNote, StepsState } from './steps-state.ts'
import type { LampView, StrategyStep } from './strategy.ts'
import { voiceOf } from './voice.ts'

// Notes that pads play directly: they belong to no row, and last as long as the hit does.

export function playOwnNote(
  state: StepsState,
  pad: ReadyPad & { do: 'note' },
  note: Note,
  view: LampView,
  now: Micros,
): StrategyStep<StepsState> {
  if (pad.lamp < 0) return { state, intents: [] }
  const duty = pad.duty ?? note.duty
  const voice = voiceOf({ ...note, key: pad.note, duty })
  const own = { id: note.id, lamp: pad.lamp, voice }
  return light({ ...state, own: [...state.own, own] }, own, view, now)
}

/** The lamp goes back to a note of its that still lasts, unless a row has struck it since. */
export function endOwnNote(
  state: StepsState,
  id: NoteId,
  view: LampView,
  now: Micros,
): StrategyStep<StepsState> {
  const ended = state.own.find((one) => one.id === id)
  if (!ended) return { state, intents: [] }
  const without = { ...state, own: state.own.filter((one) => one !== ended) }
  const sounding = state.lamps[ended.lamp]
  if (sounding?.id !== id || sounding.until !== null) return { state: without, intents: [] }
  const dark = darkenThose(state.lamps, view, (one) => one === sounding)
  const back = gainLamp({ ...without, lamps: dark.lamps }, ended.lamp, view, now)
  return back.intents.length > 0 ? back : { state: back.state, intents: dark.intents }
}

/** A lamp comes back: to a pad's note that still lasts. Rows come to it with their next step. */
export function gainLamp(
  state: StepsState,
  index: number,
  view: LampView,
  now: Micros,
): StrategyStep<StepsState> {
  const own = state.own.findLast(({ lamp }) => lamp === index)
  return own && !state.lamps[index] ? light(state, own, view, now) : { state, intents: [] }
}

/** A lamp is dark that this part had lit; the count goes on. */
export function loseLamp(
  state: StepsState,
  event: PartEvent & { kind: 'refused' | 'lost' },
  view: LampView,
  now: Micros,
): StepsState {
  const index = view.lamps.indexOf(event.lamp)
  const isRefused = event.kind === 'refused'
  const sounding = state.lamps[index]
  const isOver = sounding && (!isRefused || sounding.id === event.id)
  return {
    ...state,
    ...(isRefused ? { refusals: withRefusal(state.refusals, event.id, index, now) } : {}),
    ...(isOver ? { lamps: state.lamps.with(index, null) } : {}),
  }
}

function light(
  state: StepsState,
  { id, lamp, voice }: OwnNote,
  view: LampView,
  now: Micros,
): StrategyStep<StepsState> {
  if (wasRefused(state.refusals, id, lamp, now)) return { state, intents: [] }
  return strike(state, [{ lamp, row: null, voice, until: null }], view)
}
