import type { NoteId } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { KeysPlayer } from '../domain/player.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Channel, Key, Velocity } from '../domain/units.ts'
import type { SensingDeadline } from './active-sensing.ts'
import { nextDeadline } from './active-sensing.ts'
import type { ChannelBend } from './channel-bend.ts'
import { centreBend, centreBends, startBends, stepBends } from './channel-bend.ts'
import type { PlayerIn } from './player-in.ts'

/** A strike that still sounds. */
interface Strike {
  readonly id: NoteId
  readonly channel: Channel
  readonly key: Key
  readonly down: boolean
  /** Caught by the sostenuto pedal. */
  readonly caught: boolean
}

interface Pedals {
  readonly sustain: boolean
  readonly sostenuto: boolean
}

export interface KeysState {
  readonly channels: readonly Channel[]
  readonly range: number
  readonly nextId: NoteId
  readonly strikes: readonly Strike[]
  /** Per channel, from 1. */
  readonly pedals: readonly Pedals[]
  readonly bends: readonly ChannelBend[]
  readonly sensing: SensingDeadline
}

const UP: Pedals = { sustain: false, sostenuto: false }
/** MIDI 1.0 Detailed Specification: switch controllers are on from 64. */
const SWITCH_ON = 64

type Change = { readonly state: KeysState; readonly out: readonly PlayerEvent[] }

/** A keyboard: keys, pedals, bend and channel-mode messages become notes that begin and end once. */
export const keys: Stage<KeysPlayer, KeysState, PlayerIn, PlayerEvent> = {
  name: 'keys',
  start: (player) => ({
    channels: player.input.channels,
    range: player.bendRange,
    nextId: 1,
    strikes: [],
    pedals: Array.from({ length: 16 }, () => UP),
    bends: startBends(player.bendRange),
    sensing: null,
  }),
  step(state, event, now): Step<KeysState, PlayerEvent> {
    if ('kind' in event) {
      if (event.kind === 'wake' && (state.sensing === null || state.sensing > now)) return step(state, [])
      return step({ ...silenced(state), sensing: null }, [{ kind: 'all-off' }, ...straighten(state)])
    }
    const sensing = nextDeadline(state.sensing, event.type, now)
    const heard = sensing === state.sensing ? state : { ...state, sensing }
    const next = hear(heard, event)
    return step(next.state, next.out)
  },
}

function step(state: KeysState, out: readonly PlayerEvent[]): Step<KeysState, PlayerEvent> {
  return { state, out, wake: state.sensing ?? undefined }
}

function hear(state: KeysState, message: MidiMessage): Change {
  if (message.type === 'reset') return reset(state)
  if (!('channel' in message) || !state.channels.includes(message.channel)) return { state, out: [] }
  switch (message.type) {
    case 'note-on':
      return strike(state, message.channel, message.key, message.velocity)
    case 'note-off':
      return lift(state, (one) => one.channel === message.channel && one.key === message.key)
    case 'controller':
      return control(state, message.channel, message.controller, message.value)
    case 'bend':
    case 'parameter': {
      const { bends, event } = stepBends(state.bends, message)
      return { state: { ...state, bends }, out: event ? [event] : [] }
    }
    default:
      return { state, out: [] }
  }
}

/** A key struck again ends its earlier strike, so that every strike has its own end. */
function strike(state: KeysState, channel: Channel, key: Key, velocity: Velocity): Change {
  const earlier = state.strikes.find((one) => one.channel === channel && one.key === key)
  const others = earlier ? state.strikes.filter((one) => one !== earlier) : state.strikes
  const id = state.nextId
  // The damper of a key that the sostenuto pedal caught stays up, whatever the key does.
  const caught = earlier?.caught ?? false
  const on: PlayerEvent = { kind: 'note-on', note: id, key, channel, velocity }
  return {
    state: { ...state, nextId: id + 1, strikes: [...others, { id, channel, key, down: true, caught }] },
    out: earlier ? [{ kind: 'note-off', note: earlier.id }, on] : [on],
  }
}

/** Keys go up: their notes end, unless a pedal holds them. */
function lift(state: KeysState, which: (strike: Strike) => boolean): Change {
  const out: PlayerEvent[] = []
  const strikes: Strike[] = []
  for (const one of state.strikes) {
    if (!one.down || !which(one)) strikes.push(one)
    else if (isPedalled(one, state.pedals)) {
      strikes.push({ ...one, down: false })
      out.push({ kind: 'note-release', note: one.id })
    } else out.push({ kind: 'note-off', note: one.id })
  }
  return { state: { ...state, strikes }, out }
}

function isPedalled(strike: Strike, pedals: readonly Pedals[]): boolean {
  return strike.caught || (pedals[strike.channel - 1] ?? UP).sustain
}

function control(state: KeysState, channel: Channel, controller: number, value: number): Change {
  const pedals = state.pedals[channel - 1] ?? UP
  const passed: PlayerEvent = { kind: 'controller', channel, controller, value }
  switch (controller) {
    case 64:
      return withEvent(movePedals(state, channel, { ...pedals, sustain: value >= SWITCH_ON }), passed)
    case 66:
      return withEvent(movePedals(state, channel, { ...pedals, sostenuto: value >= SWITCH_ON }), passed)
    case 120:
      return end(state, (one) => one.channel === channel)
    case 121:
      return resetControllers(state, channel)
    case 123:
    case 124:
    case 125:
    case 126:
    case 127:
      return lift(state, (one) => one.channel === channel)
    default:
      return { state, out: [passed] }
  }
}

function withEvent(change: Change, event: PlayerEvent): Change {
  return { state: change.state, out: [...change.out, event] }
}

function movePedals(state: KeysState, channel: Channel, after: Pedals): Change {
  const before = state.pedals[channel - 1] ?? UP
  let { strikes } = state
  if (after.sostenuto !== before.sostenuto) {
    // Only keys that are down at the moment it is pressed are caught.
    strikes = strikes.map((one) =>
      one.channel === channel ? { ...one, caught: after.sostenuto && one.down } : one,
    )
  }
  const moved = { ...state, strikes, pedals: state.pedals.with(channel - 1, after) }
  return end(moved, (one) => one.channel === channel && !one.down && !isPedalled(one, moved.pedals))
}

function end(state: KeysState, which: (strike: Strike) => boolean): Change {
  const out: PlayerEvent[] = []
  const strikes = state.strikes.filter((one) => {
    if (!which(one)) return true
    out.push({ kind: 'note-off', note: one.id })
    return false
  })
  return { state: out.length === 0 ? state : { ...state, strikes }, out }
}

/** CC 121, Recommended Practice RP-015 (from memory): pedals up, bend centred, modulation 0, expression 127; ranges and sound controllers stay. */
function resetControllers(state: KeysState, channel: Channel): Change {
  const lifted = movePedals(state, channel, UP)
  const { bends, event } = centreBend(lifted.state.bends, channel)
  return {
    state: { ...lifted.state, bends },
    out: [
      ...lifted.out,
      ...(event ? [event] : []),
      { kind: 'controller', channel, controller: 1, value: 0 },
      { kind: 'controller', channel, controller: 11, value: 127 },
    ],
  }
}

/** Nothing sounds, nothing is pressed; numbering goes on. */
function silenced(state: KeysState): KeysState {
  return { ...state, strikes: [], pedals: state.pedals.map(() => UP), bends: centreBends(state.bends) }
}

/** System reset, MIDI 1.0 Detailed Specification: as after power-up, so bend ranges are the show's and active sensing has not been heard. */
function reset(state: KeysState): Change {
  return {
    state: { ...silenced(state), bends: startBends(state.range), sensing: null },
    out: [{ kind: 'all-off' }, ...straighten(state)],
  }
}

/** Bends that a silenced player leaves behind go back to the centre. */
function straighten(state: KeysState): PlayerEvent[] {
  return state.channels.flatMap((channel) => centreBend(state.bends, channel).event ?? [])
}
