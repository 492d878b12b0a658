import type { NoteId } from '../domain/ids.ts'
import type { PadsPlayer } from '../domain/player.ts'
import type { DropReason, PlayerEvent } from '../domain/player-event.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { Channel, Key, Micros, Velocity } from '../domain/units.ts'
import { msToMicros } from '../time/beats.ts'
import type { PlayerIn } from './player-in.ts'

/** A hit whose gate is still open. */
interface OpenHit {
  readonly id: NoteId
  readonly channel: Channel
  readonly key: Key
  readonly until: Micros
}

/** The last hit on a pad that was taken. */
interface LastHit {
  readonly channel: Channel
  readonly key: Key
  readonly velocity: Velocity
  readonly at: Micros
}

export interface PadsState {
  readonly channels: readonly Channel[]
  readonly floor: Velocity
  readonly mask: Micros
  readonly crosstalk: Micros
  readonly gate: Micros
  readonly nextId: NoteId
  readonly open: readonly OpenHit[]
  readonly last: readonly LastHit[]
}

/** A hit weaker than this share of another pad's, within the crosstalk window, is the stand shaking (common practice, no source). */
const CROSSTALK_SHARE = 1 / 3

/** Drum pads: bounces and shakes are dropped; what is left lasts one gate, since pads send their note-off at once. */
export const pads: Stage<PadsPlayer, PadsState, PlayerIn, PlayerEvent> = {
  name: 'pads',
  start: (player) => ({
    channels: player.input.channels,
    floor: player.floor,
    mask: msToMicros(player.maskMs),
    crosstalk: msToMicros(player.crosstalkMs),
    gate: Math.max(1, msToMicros(player.gateMs)),
    nextId: 1,
    open: [],
    last: [],
  }),
  step(state, event, now): Step<PadsState, PlayerEvent> {
    // A gate that is due ends before anything else of its time happens.
    const due = closeGates(state, now)
    const happened = happen(due.state, event, now)
    const next = { state: happened.state, out: [...due.out, ...happened.out] }
    const wake = next.state.open.reduce((first, hit) => Math.min(first, hit.until), Infinity)
    return { ...next, wake: wake === Infinity ? undefined : wake }
  },
}

type Change = { readonly state: PadsState; readonly out: readonly PlayerEvent[] }

function happen(state: PadsState, event: PlayerIn, now: Micros): Change {
  if ('kind' in event) return event.kind === 'wake' ? { state, out: [] } : silence(state)
  if (event.type === 'reset') return silence(state)
  if (!('channel' in event) || !state.channels.includes(event.channel)) return { state, out: [] }
  if (event.type === 'note-on') return hit(state, event.channel, event.key, event.velocity, now)
  if (event.type === 'controller') {
    if (event.controller === 120) return silenceChannel(state, event.channel)
    const { channel, controller, value } = event
    return { state, out: controller < 120 ? [{ kind: 'controller', channel, controller, value }] : [] }
  }
  return { state, out: [] }
}

function hit(state: PadsState, channel: Channel, key: Key, velocity: Velocity, now: Micros): Change {
  const why = dropReason(state, channel, key, velocity, now)
  if (why) return { state, out: [{ kind: 'dropped', key, channel, why }] }
  const same = (one: { channel: Channel; key: Key }): boolean => one.channel === channel && one.key === key
  const earlier = state.open.find(same)
  const id = state.nextId
  return {
    state: {
      ...state,
      nextId: id + 1,
      open: [...state.open.filter((one) => one !== earlier), { id, channel, key, until: now + state.gate }],
      last: [...state.last.filter((one) => !same(one)), { channel, key, velocity, at: now }],
    },
    out: [
      ...(earlier ? [{ kind: 'note-off', note: earlier.id } as const] : []),
      { kind: 'note-on', note: id, key, channel, velocity },
    ],
  }
}

function dropReason(
  state: PadsState,
  channel: Channel,
  key: Key,
  velocity: Velocity,
  now: Micros,
): DropReason | undefined {
  if (velocity < state.floor) return 'floor'
  const isOwn = (last: LastHit): boolean => last.channel === channel && last.key === key
  if (state.last.some((last) => isOwn(last) && now - last.at < state.mask)) return 'mask'
  const isShaking = state.last.some(
    (last) => !isOwn(last) && now - last.at < state.crosstalk && velocity < last.velocity * CROSSTALK_SHARE,
  )
  return isShaking ? 'crosstalk' : undefined
}

function closeGates(state: PadsState, now: Micros): Change {
  return closeThose(state, ({ until }) => until <= now)
}

/** CC 120, MIDI 1.0 Detailed Specification: a channel mode message, so it concerns its own channel. */
function silenceChannel(state: PadsState, channel: Channel): Change {
  return closeThose(state, (hit) => hit.channel === channel)
}

function closeThose(state: PadsState, which: (hit: OpenHit) => boolean): Change {
  const over = state.open.filter(which)
  if (over.length === 0) return { state, out: [] }
  return {
    state: { ...state, open: state.open.filter((hit) => !over.includes(hit)) },
    out: over.map(({ id }): PlayerEvent => ({ kind: 'note-off', note: id })),
  }
}

function silence(state: PadsState): Change {
  return { state: { ...state, open: [] }, out: [{ kind: 'all-off' }] }
}
