import type { PlayerId } from '../domain/ids.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Player } from '../domain/player.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Control, ControlAct } from '../domain/switching.ts'
import type { Channel, Key } from '../domain/units.ts'

export interface ControlsConfig {
  readonly player: Player
  readonly controls: readonly Control[]
}

export type ControlsIn =
  | MidiMessage
  /** The player is gone: nothing of it is down any more. */
  | { readonly kind: 'all-off' }
  /** The show was edited. */
  | { readonly kind: 'controls'; readonly controls: readonly Control[] }

/** An act that says all it needs: a program's number has become a place. */
export type DoneAct = Exclude<ControlAct, 'number'>

export type ControlsOut =
  | { readonly kind: 'pass'; readonly message: MidiMessage }
  /** A control was worked; `message` is not played. */
  | { readonly kind: 'act'; readonly act: DoneAct; readonly message: MidiMessage }

interface DownKey {
  readonly channel: Channel
  readonly key: Key
}

interface HighController {
  readonly channel: Channel
  readonly controller: number
}

export interface ControlsState {
  readonly player: PlayerId
  readonly channels: readonly Channel[]
  readonly controls: readonly Control[]
  /** Keys down that are played, and those that work a control: each up goes the way of its down, also where the controls were edited in between. */
  readonly played: readonly DownKey[]
  readonly taken: readonly DownKey[]
  /** Controllers at 64 or above that were passed on, and those that work a control. */
  readonly passed: readonly HighController[]
  readonly raised: readonly HighController[]
}

/** MIDI 1.0 Detailed Specification: switch controllers are on from 64. */
const SWITCH_ON = 64

/**
 * What a player does to change songs or to darken is taken out of what it plays: a control's messages are consumed, a note's off with it, and every other message
 * is passed on. A gesture without a channel is one on any of the player's channels.
 */
export const controls: Stage<ControlsConfig, ControlsState, ControlsIn, ControlsOut> = {
  name: 'controls',
  start: ({ player, controls: all }) => ({
    player: player.id,
    channels: player.input.channels,
    controls: ofPlayer(all, player.id),
    played: [],
    taken: [],
    passed: [],
    raised: [],
  }),
  step(state, event): Step<ControlsState, ControlsOut> {
    if ('kind' in event) {
      if (event.kind === 'controls')
        return { state: { ...state, controls: ofPlayer(event.controls, state.player) }, out: [] }
      return { state: { ...state, played: [], taken: [], passed: [], raised: [] }, out: [] }
    }
    switch (event.type) {
      case 'note-on':
        return strike(state, event)
      case 'note-off':
        return lift(state, event)
      case 'controller':
        return turn(state, event)
      case 'program': {
        const control = controlFor(state, event)
        return { state, out: [control ? worked(control, event) : { kind: 'pass', message: event }] }
      }
      default:
        return { state, out: [{ kind: 'pass', message: event }] }
    }
  },
}

function ofPlayer(all: readonly Control[], player: PlayerId): readonly Control[] {
  return all.filter((control) => control.player === player)
}

type Of<Type extends MidiMessage['type']> = Extract<MidiMessage, { type: Type }>

function strike(state: ControlsState, message: Of<'note-on'>): Step<ControlsState, ControlsOut> {
  const { channel, key } = message
  const isPlayed = state.played.some((one) => one.channel === channel && one.key === key)
  const control = controlFor(state, message)
  if (!control) {
    // Struck again as a note, its off is the note's, whatever it was down for before.
    const played = isPlayed ? state.played : [...state.played, { channel, key }]
    const taken = state.taken.length > 0 ? withoutKey(state.taken, channel, key) : state.taken
    return { state: { ...state, played, taken }, out: [{ kind: 'pass', message }] }
  }
  // The key was down as a note before it became a control: its one off to come is the control's, so the note ends now.
  const ended: ControlsOut[] = isPlayed
    ? [{ kind: 'pass', message: { type: 'note-off', channel, key, velocity: 64 } }]
    : []
  const taken = [...withoutKey(state.taken, channel, key), { channel, key }]
  const played = isPlayed ? withoutKey(state.played, channel, key) : state.played
  return { state: { ...state, played, taken }, out: [...ended, worked(control, message)] }
}

function lift(state: ControlsState, message: Of<'note-off'>): Step<ControlsState, ControlsOut> {
  const { channel, key } = message
  const taken = withoutKey(state.taken, channel, key)
  if (taken.length < state.taken.length) return { state: { ...state, taken }, out: [] }
  const played = withoutKey(state.played, channel, key)
  const next = played.length < state.played.length ? { ...state, played } : state
  return { state: next, out: [{ kind: 'pass', message }] }
}

function withoutKey(down: readonly DownKey[], channel: Channel, key: Key): readonly DownKey[] {
  return down.filter((one) => one.channel !== channel || one.key !== key)
}

function turn(state: ControlsState, message: Of<'controller'>): Step<ControlsState, ControlsOut> {
  const { channel, controller, value } = message
  const isThis = (one: HighController): boolean => one.channel === channel && one.controller === controller
  const control = controlFor(state, message)
  const wasPassed = state.passed.some(isThis)
  const wasRaised = state.raised.some(isThis)
  const pass: ControlsOut[] = [{ kind: 'pass', message }]
  if (value < SWITCH_ON) {
    // Pressed as one and let go as the other, since the controls were edited in between: who heard that it was pressed hears that it is not.
    const out = wasPassed || !(control || wasRaised) ? pass : []
    if (!wasPassed && !wasRaised) return { state, out }
    const rest = (all: readonly HighController[]) => all.filter((one) => !isThis(one))
    return { state: { ...state, passed: rest(state.passed), raised: rest(state.raised) }, out }
  }
  if (!control) {
    if (wasPassed) return { state, out: pass }
    return { state: { ...state, passed: [...state.passed, { channel, controller }] }, out: pass }
  }
  if (wasRaised || wasPassed) return { state, out: [] }
  const raised = [...state.raised, { channel, controller }]
  return { state: { ...state, raised }, out: [worked(control, message)] }
}

function worked(control: Control, message: MidiMessage): ControlsOut {
  const act = control.do
  if (act !== 'number') return { kind: 'act', act, message }
  return { kind: 'act', act: { place: message.type === 'program' ? message.program + 1 : 0 }, message }
}

/** Of several that fit, the one that says most: its program, then its channel. */
function controlFor(state: ControlsState, message: MidiMessage): Control | undefined {
  let best: Control | undefined
  for (const control of state.controls)
    if (fits(control, message, state.channels) && (!best || weight(control) > weight(best))) best = control
  return best
}

function fits({ on }: Control, message: MidiMessage, channels: readonly Channel[]): boolean {
  if (!('channel' in message)) return false
  const { channel } = message
  if (on.channel === undefined ? !channels.includes(channel) : on.channel !== channel) return false
  switch (on.kind) {
    case 'program':
      return message.type === 'program' && (on.program ?? message.program) === message.program
    case 'controller':
      return message.type === 'controller' && message.controller === on.controller
    case 'note':
      return message.type === 'note-on' && message.key === on.key
  }
}

function weight({ on }: Control): number {
  return (on.kind === 'program' && on.program !== undefined ? 2 : 0) + (on.channel === undefined ? 0 : 1)
}
