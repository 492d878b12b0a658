import type { NoteId } from '../domain/ids.ts'
import { curved } from '../domain/pad-curve.ts'
import type { PadCurve } from '../domain/pad-curve.ts'
import type { Pad, PadsPlayer } from '../domain/player.ts'
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

/** A hit that was taken, and not long ago. */
interface RecentHit {
  readonly channel: Channel
  readonly key: Key
  /** As struck. */
  readonly velocity: Velocity
  readonly at: Micros
}

interface PadRules {
  readonly floor: Velocity
  readonly mask: Micros
  readonly gate: Micros
  readonly curve: PadCurve
}

export interface PadsState {
  readonly channels: readonly Channel[]
  readonly crosstalk: Micros
  /** For every key that has none of its own. */
  readonly rules: PadRules
  readonly own: readonly (PadRules & { readonly key: Key })[]
  /** How long a hit can bear on later ones. */
  readonly memory: Micros
  readonly nextId: NoteId
  readonly open: readonly OpenHit[]
  /** In order of time. */
  readonly recent: readonly RecentHit[]
}

/** A hit so many times weaker than another pad's, within the crosstalk window, is the stand shaking (common practice, no source). */
const CROSSTALK_TIMES = 3

/** Drum pads: bounces and shakes are dropped; what is left lasts one gate, since pads send their note-off at once. */
export const pads: Stage<PadsPlayer, PadsState, PlayerIn, PlayerEvent> = {
  name: 'pads',
  start(player) {
    const own = player.pads.map((pad) => ({ key: pad.key, ...rulesOf({ ...player, ...given(pad) }) }))
    const rules = rulesOf(player)
    const crosstalk = msToMicros(player.crosstalkMs)
    return {
      channels: player.input.channels,
      crosstalk,
      rules,
      own,
      memory: Math.max(crosstalk, rules.mask, ...own.map(({ mask }) => mask)),
      nextId: 1,
      open: [],
      recent: [],
    }
  },
  step(state, event, now): Step<PadsState, PlayerEvent> {
    // A gate that is due ends before anything else of its time happens.
    const due = closeGates(state, now)
    const happened = happen(due.state, event, now)
    const next = { state: happened.state, out: [...due.out, ...happened.out] }
    const wake = next.state.open.reduce((first, hit) => Math.min(first, hit.until), Infinity)
    return { ...next, wake: wake === Infinity ? undefined : wake }
  },
}

type Rules = Pick<PadsPlayer, 'floor' | 'maskMs' | 'gateMs' | 'curve'>

function rulesOf({ floor, maskMs, gateMs, curve }: Rules): PadRules {
  return { floor, mask: msToMicros(maskMs), gate: Math.max(1, msToMicros(gateMs)), curve }
}

/** What a pad says itself. */
function given({ floor, maskMs, gateMs, curve }: Pad): Partial<Rules> {
  return {
    ...(floor === undefined ? {} : { floor }),
    ...(maskMs === undefined ? {} : { maskMs }),
    ...(gateMs === undefined ? {} : { gateMs }),
    ...(curve === undefined ? {} : { curve }),
  }
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

function hit(state: PadsState, channel: Channel, key: Key, struck: Velocity, now: Micros): Change {
  const rules = state.own.find((one) => one.key === key) ?? state.rules
  const isSame = (one: { channel: Channel; key: Key }): boolean => one.channel === channel && one.key === key
  const why = dropReason(state, rules, isSame, struck, now)
  if (why) return { state, out: [{ kind: 'dropped', key, channel, why, velocity: struck }] }
  const velocity = curved(rules.curve, struck)
  const earlier = state.open.find(isSame)
  const id = state.nextId
  // What came before on the pad and was no stronger can neither mask nor outdo what comes after: at most 127 hits a pad are kept.
  const recent = state.recent.filter(
    (one) => now - one.at < state.memory && !(isSame(one) && one.velocity <= struck),
  )
  return {
    state: {
      ...state,
      nextId: id + 1,
      open: [...state.open.filter((one) => one !== earlier), { id, channel, key, until: now + rules.gate }],
      recent: [...recent, { channel, key, velocity: struck, at: now }],
    },
    out: [
      ...(earlier ? [{ kind: 'note-off', note: earlier.id } as const] : []),
      { kind: 'note-on', note: id, key, channel, velocity, ...(velocity === struck ? {} : { struck }) },
    ],
  }
}

/**
 * Only what came before counts. A weak hit just before a loud one may be the stand shaking too, as the sensors are not equally fast; that could only be known
 * by holding every hit back for the whole crosstalk window, which no player wants to wait for.
 */
function dropReason(
  { recent, crosstalk }: PadsState,
  { floor, mask }: PadRules,
  isSame: (one: RecentHit) => boolean,
  struck: Velocity,
  now: Micros,
): DropReason | undefined {
  if (struck < floor) return 'floor'
  if (recent.some((one) => isSame(one) && now - one.at < mask)) return 'mask'
  const isShaking = recent.some(
    (one) => !isSame(one) && now - one.at < crosstalk && struck * CROSSTALK_TIMES < one.velocity,
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
