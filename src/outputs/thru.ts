import type { MidiMessage } from '../domain/midi-message.ts'
import type { Thru, ThruKind } from '../domain/song.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Channel, Key } from '../domain/units.ts'

/** What a thru is told: the player's messages, or that the player is gone and nothing of it may go on sounding. */
export type ThruIn = MidiMessage | { readonly kind: 'all-off' }

export interface ThruState {
  readonly thru: Thru
  /** Notes that went on and have not ended. */
  readonly notes: readonly { readonly channel: Channel; readonly key: Key }[]
  /** Pedals that went on pressed. */
  readonly pedals: readonly { readonly channel: Channel; readonly controller: number }[]
}

/** Sustain, portamento, sostenuto and soft (MIDI 1.0 Detailed Specification): on from 64. */
const PEDALS = [64, 65, 66, 67]
const SWITCH_ON = 64

/** What a show lets pass from a player to a MIDI output; it remembers what it left sounding, so as to end it. */
export const thruStage: Stage<Thru, ThruState, ThruIn, MidiMessage> = {
  name: 'thru',
  start: (thru) => ({ thru, notes: [], pedals: [] }),
  step(state, event): Step<ThruState, MidiMessage> {
    if ('kind' in event) return letGo(state)
    const message = thruMessage(state.thru, event)
    return message ? { state: remember(state, message), out: [message] } : { state, out: [] }
  },
}

function remember(state: ThruState, message: MidiMessage): ThruState {
  switch (message.type) {
    case 'note-on':
    case 'note-off': {
      const { channel, key } = message
      const others = state.notes.filter((note) => note.channel !== channel || note.key !== key)
      return { ...state, notes: message.type === 'note-on' ? [...others, { channel, key }] : others }
    }
    case 'controller': {
      const { channel, controller, value } = message
      if (!PEDALS.includes(controller)) return state
      const others = state.pedals.filter((one) => one.channel !== channel || one.controller !== controller)
      return { ...state, pedals: value >= SWITCH_ON ? [...others, { channel, controller }] : others }
    }
    default:
      return state
  }
}

function letGo(state: ThruState): Step<ThruState, MidiMessage> {
  const offs = state.notes.map(({ channel, key }): MidiMessage => ({
    type: 'note-off',
    channel,
    key,
    velocity: 64,
  }))
  const ups = state.pedals.map(({ channel, controller }): MidiMessage => ({
    type: 'controller',
    channel,
    controller,
    value: 0,
  }))
  return { state: { ...state, notes: [], pedals: [] }, out: [...offs, ...ups] }
}

/** What of a message goes on to a MIDI output, renumbered as the thru says; undefined for what does not pass. */
export function thruMessage(thru: Thru, message: MidiMessage): MidiMessage | undefined {
  const kind = kindOf(message)
  if (kind === undefined || !thru.pass.includes(kind)) return undefined
  if (!('channel' in message)) return message
  const channel = thru.channel ?? message.channel
  if (message.type !== 'controller') return { ...message, channel }
  const to = thru.controllers.find(({ from }) => from === message.controller)?.to
  return { ...message, channel, controller: to ?? message.controller }
}

function kindOf(message: MidiMessage): ThruKind | undefined {
  switch (message.type) {
    case 'controller':
      return 'controllers'
    case 'bend':
      return 'bend'
    case 'note-on':
    case 'note-off':
      return 'notes'
    case 'clock':
    case 'start':
    case 'continue':
    case 'stop':
    case 'song-position':
      return 'clock'
    default:
      // A parameter is passed as the controllers it was made of.
      return undefined
  }
}
