import type { TuningId } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import { midiKeyToHz, shiftByCents } from '../domain/pitch.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { TableTuning } from '../domain/tuning-spec.ts'
import type { Cents, Channel, Hz } from '../domain/units.ts'
import { RPN_TUNING_BANK, RPN_TUNING_PROGRAM } from './controllers.ts'
import { decodeMts } from './mts-decode.ts'
import type { MtsMessage } from './mts-message.ts'
import { KEY_COUNT } from './mts-message.ts'
import type { MtsWord } from './mts-word.ts'
import { NO_CHANGE, wordToHz } from './mts-word.ts'

/** A tuning of the show that a player's instrument tells. */
export interface HeardTuning {
  readonly id: TuningId
  /** Where it begins. */
  readonly program: number
  readonly bank: number
  /** Keys that nothing was said of, key 0 first; null: no pitch. */
  readonly base: readonly (Hz | null)[]
}

export interface MtsKeyboardConfig {
  readonly channels: readonly Channel[]
  readonly tunings: readonly HeardTuning[]
}

export type MtsKeyboardIn =
  | MidiMessage
  /** The show was edited. */
  | { readonly kind: 'tunings'; readonly tunings: readonly HeardTuning[] }

export type MtsKeyboardOut =
  /** The tuning is so from now on. `retune`: what sounds as well, and then all of it, as the tuning now stands. */
  | { readonly kind: 'tuned'; readonly tuning: TableTuning; readonly retune: boolean }
  /** A message of the MIDI Tuning Standard that is no good; nothing of it counts. */
  | { readonly kind: 'fault'; readonly why: string }

/** Keys of one program of one bank; null: not said, or not since the last scale/octave message. */
type Program = readonly (MtsWord | null)[]

export interface MtsKeyboardState extends MtsKeyboardConfig {
  /** Chosen by the instrument; null: as each tuning begins. */
  readonly program: number | null
  readonly bank: number | null
  /** The last scale/octave message; null: none. */
  readonly octave: readonly Cents[] | null
  /** By "bank/program". */
  readonly programs: Readonly<Record<string, Program>>
}

/**
 * A player's instrument that tells how its keys are tuned, by the MIDI Tuning Standard. Of two messages that speak of a key the later counts: single-note changes and
 * bulk dumps speak of keys of one program, a scale/octave message of all keys of every program. What is said without a bank is said of bank 0. A registered
 * parameter 3 (tuning program) or 4 (tuning bank) on one of the player's channels moves all its tunings there, for notes to come.
 * Scale/octave messages for none of its channels are not for it. A reset (FF) forgets all.
 */
export const mtsKeyboard: Stage<MtsKeyboardConfig, MtsKeyboardState, MtsKeyboardIn, MtsKeyboardOut> = {
  name: 'mts-keyboard',
  start: ({ channels, tunings }) => ({
    channels,
    tunings,
    program: null,
    bank: null,
    octave: null,
    programs: {},
  }),
  step(state, event): Step<MtsKeyboardState, MtsKeyboardOut> {
    if ('kind' in event) return told(state, { ...state, tunings: event.tunings }, true)
    switch (event.type) {
      case 'sysex':
        return hear(state, event.data)
      case 'parameter':
        return told(state, chosen(state, event), false)
      case 'reset':
        return told(state, mtsKeyboard.start(state), false)
      default:
        return { state, out: [] }
    }
  },
}

function hear(state: MtsKeyboardState, data: readonly number[]): Step<MtsKeyboardState, MtsKeyboardOut> {
  const message = decodeMts(data)
  if (!message) return { state, out: [] }
  if (message.kind !== 'fault')
    return told(state, taken(state, message), message.kind !== 'bulk' && message.realTime)
  return { state, out: state.tunings.length > 0 ? [message] : [] }
}

function chosen(
  state: MtsKeyboardState,
  { registered, channel, parameter, value }: MidiMessage & { type: 'parameter' },
): MtsKeyboardState {
  if (!registered || !state.channels.includes(channel)) return state
  // The number is in the upper half; the lower one means nothing (MIDI Tuning Standard, from memory).
  if (parameter === RPN_TUNING_PROGRAM) return { ...state, program: value >> 7 }
  return parameter === RPN_TUNING_BANK ? { ...state, bank: value >> 7 } : state
}

function taken(state: MtsKeyboardState, message: MtsMessage): MtsKeyboardState {
  if (message.kind === 'octave') {
    const isOurs = message.channels.some((channel) => state.channels.includes(channel))
    return isOurs ? { ...state, octave: message.cents, programs: {} } : state
  }
  const name = nameOf(message.bank ?? 0, message.program)
  const before = state.programs[name] ?? Array.from({ length: KEY_COUNT }, () => null)
  const after = before.slice()
  if (message.kind === 'keys') {
    for (const { key, word } of message.changes) if (word !== NO_CHANGE) after[key] = word
  } else
    message.words.forEach((word, key) => {
      if (word !== NO_CHANGE) after[key] = word
    })
  return { ...state, programs: { ...state.programs, [name]: after } }
}

/** What `after` has otherwise than `before`. */
function told(
  before: MtsKeyboardState,
  after: MtsKeyboardState,
  retune: boolean,
): Step<MtsKeyboardState, MtsKeyboardOut> {
  if (after === before) return { state: before, out: [] }
  const out = after.tunings.flatMap((tuning): MtsKeyboardOut[] => {
    const earlier = before.tunings.find(({ id }) => id === tuning.id)
    const was = earlier && keysOf(before, earlier)
    const hz = keysOf(after, tuning)
    // Who had it before may have told it otherwise: one that is new here is said in any case.
    if (was && hz.every((one, key) => one === was[key])) return []
    return [{ kind: 'tuned', tuning: { id: tuning.id, kind: 'table', hz }, retune }]
  })
  return { state: after, out }
}

function keysOf(state: MtsKeyboardState, { program, bank, base }: HeardTuning): (Hz | null)[] {
  const said = state.programs[nameOf(state.bank ?? bank, state.program ?? program)]
  return base.map((hz, key) => {
    const word = said?.[key]
    if (word !== undefined && word !== null) return wordToHz(word)
    return state.octave ? shiftByCents(midiKeyToHz(key), state.octave[key % 12] ?? 0) : hz
  })
}

function nameOf(bank: number, program: number): string {
  return `${bank}/${program}`
}
