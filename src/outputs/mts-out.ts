import type { MidiMessage } from '../domain/midi-message.ts'
import type { Stage, Step, Wake } from '../domain/stage.ts'
import type { Micros } from '../domain/units.ts'

/** What stands between F0 and F7. */
type Sysex = readonly number[]

export type MtsOutIn =
  /** The port is open, for the first time or again: whatever listens there may be new. */
  | { readonly kind: 'open' }
  /** The port is about to close. */
  | { readonly kind: 'close' }
  /** The tuning to be told; place by place it takes the place of the one before. `why`: it cannot be told, and there are no messages. */
  | { readonly kind: 'tell'; readonly messages: readonly Sysex[]; readonly why: string | null }
  | Wake

export type MtsOutOut =
  | { readonly kind: 'message'; readonly message: MidiMessage }
  /** The tuning is not told. */
  | { readonly kind: 'untold'; readonly why: string }

export interface MtsOutState {
  readonly isOpen: boolean
  readonly wanted: readonly Sysex[]
  /** What whoever listens knows, by place; null: nothing. */
  readonly told: readonly (Sysex | null)[]
  readonly why: string | null
  /** When the cable has had its rest. */
  readonly freeAt: Micros
}

/** MIDI 1.0 Detailed Specification, hardware: 31,250 baud, ten bits a byte. */
const BYTE: Micros = 320
/** Of the cable at most, so that lamps find it free. */
const SHARE = 0.5

/**
 * Tells a MIDI output a tuning, message by message, so that lamps on that port wait for one at most; between them the cable rests as long as each took. What was
 * told and is the same is not told again; of tunings that follow each other quickly only the last is told whole.
 */
export const mtsOut: Stage<void, MtsOutState, MtsOutIn, MtsOutOut> = {
  name: 'mts-out',
  start: () => ({ isOpen: false, wanted: [], told: [], why: null, freeAt: 0 }),
  step(state, event, now): Step<MtsOutState, MtsOutOut> {
    switch (event.kind) {
      case 'open':
        return send({ ...state, isOpen: true, told: [], freeAt: now }, now)
      case 'close':
        return { state: { ...state, isOpen: false }, out: [] }
      case 'wake':
        return send(state, now)
      case 'tell': {
        const { messages, why } = event
        const step = send({ ...state, wanted: messages, why }, now)
        return why === null || why === state.why
          ? step
          : { ...step, out: [{ kind: 'untold', why }, ...step.out] }
      }
    }
  },
}

function send(state: MtsOutState, now: Micros): Step<MtsOutState, MtsOutOut> {
  if (!state.isOpen) return { state, out: [] }
  const place = nextPlace(state)
  if (place < 0) return { state, out: [] }
  if (now < state.freeAt) return { state, out: [], wake: state.freeAt }
  const data = state.wanted[place] ?? []
  const freeAt = now + ((data.length + 2) * BYTE) / SHARE
  const told = state.wanted.map((_, at) => (at === place ? data : (state.told[at] ?? null)))
  const next = { ...state, told, freeAt }
  const message: MidiMessage = { type: 'sysex', data }
  return {
    state: next,
    out: [{ kind: 'message', message }],
    ...(nextPlace(next) < 0 ? {} : { wake: freeAt }),
  }
}

function nextPlace({ wanted, told }: MtsOutState): number {
  return wanted.findIndex((data, place) => !isSame(data, told[place] ?? null))
}

function isSame(one: Sysex, other: Sysex | null): boolean {
  return other !== null && one.length === other.length && one.every((byte, at) => byte === other[at])
}
