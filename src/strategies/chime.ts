import { z } from 'zod'
import type { NoteId } from '../domain/ids.ts'
import type { Intent } from '../domain/intent.ts'
import type { Note } from '../domain/part-event.ts'
import { KEY, PER_LAMP } from '../domain/schema.ts'
import type { Key, Micros } from '../domain/units.ts'
import { hold } from './priority.ts'
import type { Refusals } from './refusals.ts'
import { NO_REFUSALS, wasRefused, withRefusal } from './refusals.ts'
import type { LampView, Strategy, StrategyStep } from './strategy.ts'
import { voiceOf } from './voice.ts'

const options = z.strictObject({
  notes: z
    .array(z.number().int().min(0).max(127).meta(KEY))
    .min(1)
    .describe('The key each lamp answers to, one per lamp in the order of the part, after transposing')
    .meta(PER_LAMP),
})
type Options = z.output<typeof options>

interface State {
  readonly keys: readonly Key[]
  readonly held: readonly Note[]
  /** Per lamp: the note on it, 0 for none. */
  readonly on: readonly NoteId[]
  /** Per lamp: the note that has ended there for good, 0 for none. */
  readonly ended: readonly NoteId[]
  readonly refusals: Refusals
}

/** Each lamp sounds the newest held note of its own key. */
function settle(
  state: State,
  held: readonly Note[],
  view: LampView,
  now: Micros,
  changed: (index: number) => boolean,
): StrategyStep<State> {
  const on = state.on.slice()
  const intents: Intent[] = []
  view.lamps.forEach((lamp, index) => {
    if (!changed(index)) return
    const last = view.usable(index) ? held.findLast((one) => one.key === state.keys[index]) : undefined
    const note = last?.id === state.ended[index] ? undefined : last
    if ((note?.id ?? 0) === on[index]) return
    if (note && wasRefused(state.refusals, note.id, index, now)) return
    on[index] = note?.id ?? 0
    intents.push(note ? { kind: 'light', lamp, voice: voiceOf(note), strike: true } : { kind: 'dark', lamp })
  })
  return { state: { ...state, held, on }, intents }
}

/** Each lamp answers to its own note. */
export const chime: Strategy<State, Options> = {
  kind: 'chime',
  about: 'Each lamp answers to one key of its own.',
  options,
  check: ({ notes }, lamps) =>
    notes.length === lamps.length
      ? []
      : [
          {
            option: 'notes',
            message: `${notes.length} notes for ${lamps.length} lamps; give exactly one per lamp`,
          },
        ],
  start: ({ notes }, lamps) => ({
    keys: notes,
    held: [],
    on: lamps.map(() => 0),
    ended: lamps.map(() => 0),
    refusals: NO_REFUSALS,
  }),
  step(state, event, view, now) {
    if (event.kind === 'refused' || event.kind === 'lost') {
      const index = view.lamps.indexOf(event.lamp)
      if (index < 0) return { state, intents: [] }
      const on = state.on.with(index, 0)
      if (event.kind === 'lost') {
        const note = state.on[index] ?? 0
        const ended = event.ends && note !== 0 ? state.ended.with(index, note) : state.ended
        return { state: { ...state, on, ended }, intents: [] }
      }
      return {
        state: { ...state, on, refusals: withRefusal(state.refusals, event.id, index, now) },
        intents: [],
      }
    }
    if (event.kind === 'gained') {
      return settle(state, state.held, view, now, (index) => view.lamps[index] === event.lamp)
    }
    const held = hold(state.held, event)
    if (held === state.held) return { state, intents: [] }
    // Only lamps whose key moved: one that was refused is not tried again by somebody else's note.
    const keys = touchedKeys(state.held, held)
    return settle(state, held, view, now, (index) => keys.has(state.keys[index] ?? -1))
  },
}

function touchedKeys(before: readonly Note[], after: readonly Note[]): ReadonlySet<Key> {
  const keys = new Set<Key>()
  for (const note of before) if (!after.includes(note)) keys.add(note.key)
  for (const note of after) if (!before.includes(note)) keys.add(note.key)
  return keys
}
