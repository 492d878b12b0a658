import type { Intent } from '../domain/intent.ts'
import type { LampId, NoteId } from '../domain/ids.ts'
import type { Note, PartEvent } from '../domain/part-event.ts'
import type { Cents, Micros } from '../domain/units.ts'
import type { Held, Priority } from './priority.ts'
import { chosen, hold, sameVoice } from './priority.ts'
import type { Refusals } from './refusals.ts'
import { NO_REFUSALS, wasRefused, withRefusal } from './refusals.ts'
import type { LampView, StrategyStep } from './strategy.ts'
import { voiceOf } from './voice.ts'

/** One voice on all of a part's lamps: what `unison` and `partials` share. */
export interface Ensemble {
  readonly held: Held
  readonly sounding: Note | null
  /** Per lamp: whether it is lit by this part, as far as the part knows. */
  readonly lit: readonly boolean[]
  /** Per lamp: the note that has ended there for good, 0 for none. */
  readonly ended: readonly NoteId[]
  readonly refusals: Refusals
}

/** What one lamp adds to the voice. */
export interface Shade {
  readonly ratio: number
  readonly cents: Cents
}

export interface EnsembleRules {
  readonly priority: Priority
  /** Strike every lamp anew on each change of note, also on a legato one. */
  readonly retrigger: boolean
  /** Per lamp of the part; a lamp beyond the list keeps dark. */
  readonly shades: readonly Shade[]
}

export function startEnsemble(lamps: readonly LampId[]): Ensemble {
  return {
    held: [],
    sounding: null,
    lit: lamps.map(() => false),
    ended: lamps.map(() => 0),
    refusals: NO_REFUSALS,
  }
}

export function stepEnsemble(
  state: Ensemble,
  event: PartEvent,
  view: LampView,
  now: Micros,
  rules: EnsembleRules,
): StrategyStep<Ensemble> {
  switch (event.kind) {
    case 'refused': {
      const index = view.lamps.indexOf(event.lamp)
      const refusals = withRefusal(state.refusals, event.id, index, now)
      return { state: setLit({ ...state, refusals }, index, false), intents: [] }
    }
    case 'lost':
      return { state: lose(state, view.lamps.indexOf(event.lamp), event.ends === true), intents: [] }
    case 'gained':
      return join(state, view, view.lamps.indexOf(event.lamp), now, rules)
    default:
      return retarget(state, hold(state.held, event), view, rules)
  }
}

/** The voice goes on without the lamp; one that ends on its last lamp is over, with the notes held under it. */
function lose(state: Ensemble, index: number, ends: boolean): Ensemble {
  const { sounding } = state
  // Lit no more: another note came meanwhile and left the lamp out.
  if (!ends || !sounding || !state.lit[index]) return setLit(state, index, false)
  const next = { ...setLit(state, index, false), ended: state.ended.with(index, sounding.id) }
  return next.lit.includes(true) ? next : { ...next, held: [], sounding: null }
}

/** A lamp that comes back joins the voice. */
function join(
  state: Ensemble,
  view: LampView,
  index: number,
  now: Micros,
  rules: EnsembleRules,
): StrategyStep<Ensemble> {
  const shade = rules.shades[index]
  const lamp = view.lamps[index]
  if (!state.sounding || !shade || lamp === undefined || state.lit[index] || !view.usable(index))
    return { state, intents: [] }
  if (wasRefused(state.refusals, state.sounding.id, index, now)) return { state, intents: [] }
  if (state.ended[index] === state.sounding.id) return { state, intents: [] }
  const voice = voiceOf(state.sounding, shade.ratio, shade.cents)
  return { state: setLit(state, index, true), intents: [{ kind: 'light', lamp, voice, strike: true }] }
}

function retarget(state: Ensemble, held: Held, view: LampView, rules: EnsembleRules): StrategyStep<Ensemble> {
  const sounding = chosen(held, rules.priority)
  if (sameVoice(sounding, state.sounding)) return { state: { ...state, held, sounding }, intents: [] }
  const strike = state.sounding === null || (rules.retrigger && sounding?.id !== state.sounding.id)
  const lit = state.lit.slice()
  const intents: Intent[] = []
  view.lamps.forEach((lamp, index) => {
    const shade = rules.shades[index]
    if (sounding && shade && view.usable(index) && state.ended[index] !== sounding.id) {
      intents.push({
        kind: 'light',
        lamp,
        voice: voiceOf(sounding, shade.ratio, shade.cents),
        strike: strike || !lit[index],
      })
      lit[index] = true
    } else if (lit[index]) {
      intents.push({ kind: 'dark', lamp })
      lit[index] = false
    }
  })
  return { state: { ...state, held, sounding, lit }, intents }
}

function setLit(state: Ensemble, index: number, on: boolean): Ensemble {
  if (index < 0 || state.lit[index] === on) return state
  return { ...state, lit: state.lit.with(index, on) }
}
