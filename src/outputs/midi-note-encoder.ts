import type { LampIndex } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { MidiOutput } from '../domain/rig.ts'
import type { Stage } from '../domain/stage.ts'
import type { Channel, Key, Velocity } from '../domain/units.ts'
import { bySlot, changesBySlot, type Places, placesOf } from './changes-by-slot.ts'
import type { EncoderConfig, EncoderEvent, EncoderOut } from './encoder-event.ts'
import { noteOff } from './note-off.ts'

interface KeyLamp {
  readonly index: LampIndex
  readonly key: Key
  /** Velocity of the strike that sounds; null: dark. */
  readonly lit: Velocity | null
}

export interface NoteEncoderState {
  readonly kind: 'notes'
  readonly channel: Channel
  /** In slot order. */
  readonly lamps: readonly KeyLamp[]
  readonly places: Places
}

/** What a lamp is to be; `strike` also where it is that already. */
interface Wish {
  readonly place: number
  readonly lit: Velocity | null
  readonly strike: boolean
}

/**
 * A MIDI output on which every lamp is one fixed key, slot s key `firstNote + s`, all on `firstChannel`. Nothing but on and
 * off can be said so: pitch is the key's, and a duty controller is not sent, since a controller speaks for the whole
 * channel and so for every lamp. A strike of a lit lamp is off and on; of one moment's changes the offs go first. Opened
 * again, it strikes again what is lit. `start` throws RangeError for a lamp beyond key 127.
 */
export const midiNoteEncoder: Stage<EncoderConfig<MidiOutput>, NoteEncoderState, EncoderEvent, EncoderOut> = {
  name: 'midi-note-encoder',

  start({ output, lamps }) {
    const keyed = bySlot(lamps).map(({ index, slot }): KeyLamp => {
      const key = output.firstNote + slot
      if (key > 127) {
        throw new RangeError(
          `Output ${output.id}: slot ${slot} would be key ${key}, and MIDI ends at 127; use slots up to ${127 - output.firstNote}`,
        )
      }
      return { index, key, lit: null }
    })
    return { kind: 'notes', channel: output.firstChannel, lamps: keyed, places: placesOf(keyed) }
  },

  step(state, event) {
    switch (event.kind) {
      case 'open':
        return apply(
          state,
          all(state, (lamp) => lamp.lit),
        )
      case 'changes': {
        const wishes = changesBySlot(state.places, event.changes).map(({ place, state: lamp }): Wish => {
          return lamp.on
            ? { place, lit: lamp.velocity, strike: lamp.strike }
            : { place, lit: null, strike: false }
        })
        return apply(state, wishes)
      }
      case 'dark-all':
      case 'close':
        return apply(
          state,
          all(state, () => null),
        )
      case 'beat':
        return { state, out: [] }
    }
  },
}

function all(state: NoteEncoderState, lit: (lamp: KeyLamp) => Velocity | null): Wish[] {
  return state.lamps.map((lamp, place) => ({ place, lit: lit(lamp), strike: true }))
}

function apply({ channel, ...state }: NoteEncoderState, wishes: readonly Wish[]) {
  const lamps = [...state.lamps]
  const offs: MidiMessage[] = []
  const ons: MidiMessage[] = []
  for (const { place, lit, strike } of wishes) {
    const lamp = lamps[place]
    if (lamp === undefined || (lit !== null && lamp.lit !== null && !strike)) continue
    if (lamp.lit !== null) offs.push(noteOff(channel, lamp.key))
    if (lit !== null) ons.push({ type: 'note-on', channel, key: lamp.key, velocity: lit })
    lamps[place] = { ...lamp, lit }
  }
  const out = [...offs, ...ons].map((message): EncoderOut => ({ kind: 'message', message }))
  return { state: { ...state, channel, lamps }, out }
}
