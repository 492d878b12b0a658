import type { LampIndex, NoteId, OutputId, PartIndex, PlayerId, PartId } from '../domain/ids.ts'
import type { Voice } from '../domain/intent.ts'
import type { LampState, Lit } from '../domain/lamp-state.ts'
import { DARK } from '../domain/lamp-state.ts'
import type { Order } from '../domain/order.ts'
import type { Expression } from '../domain/part-event.ts'
import { shiftByCents } from '../domain/pitch.ts'
import type { Lamp, Output, TimerSpec } from '../domain/rig.ts'
import type { Stage, Step } from '../domain/stage.ts'
import type { TuningSpec } from '../domain/tuning-spec.ts'
import type { Cents, Duty, Micros } from '../domain/units.ts'
import type { Wish } from '../domain/wish.ts'
import { foldIntoRange } from './fold.ts'
import { quantise } from './quantise.ts'
import { keyToHz } from './tuning.ts'

export interface ResolveConfig {
  readonly lamps: readonly { readonly lamp: Lamp; readonly output: Output }[]
  readonly parts: readonly ResolvePart[]
}

/** What a part's voices have in common. */
export interface ResolvePart {
  readonly id: PartId
  readonly player: PlayerId
  readonly lamps: readonly LampIndex[]
  readonly tuning: TuningSpec
  readonly duty: Duty
  readonly gap: Micros
}

export type ResolveIn =
  | { readonly kind: 'orders'; readonly orders: readonly Order[] }
  /** The song begins with these, while the lamps do what `lamps` says: one that sounds the same note already goes on, the others are struck. */
  | { readonly kind: 'begin'; readonly orders: readonly Order[]; readonly lamps: readonly LampState[] }
  | { readonly kind: 'expression'; readonly part: PartIndex; readonly expression: Expression }
  /** A lamp box turned out to have another timer than the show says. */
  | { readonly kind: 'timer'; readonly output: OutputId; readonly timer: TimerSpec }

export type ResolveOut =
  | { readonly kind: 'wishes'; readonly wishes: readonly Wish[] }
  /** No octave of the pitch is within what lamp and output can do. */
  | {
      readonly kind: 'refused'
      readonly lamp: LampIndex
      readonly part: PartIndex
      readonly note: NoteId
      readonly reason: 'range'
    }

/** What a lamp was last asked to sound, and how that came out. */
interface Sounding {
  readonly part: PartIndex
  readonly voice: Voice
  readonly lit: Lit
}

export interface ResolveState {
  readonly config: ResolveConfig
  readonly lamps: readonly (Sounding | null)[]
  /** Per part and channel (from 1). */
  readonly bends: readonly (readonly Cents[])[]
  /** Per part. */
  readonly duties: readonly Duty[]
}

/**
 * From a voice to what a lamp really does: tuning, ratio, bend and trims give a rate, octaves fold it into the lamp's range, and the output's timer or
 * bend rounds it. Bends and duty changes go to the lamps of their part that sound.
 */
export const resolve: Stage<ResolveConfig, ResolveState, ResolveIn, ResolveOut> = {
  name: 'resolve',
  start: (config) => ({
    config,
    lamps: config.lamps.map(() => null),
    bends: config.parts.map(() => Array.from({ length: 16 }, () => 0)),
    duties: config.parts.map((part) => part.duty),
  }),
  step(state, event): Step<ResolveState, ResolveOut> {
    if (event.kind === 'orders') return carryOut(state, event.orders)
    if (event.kind === 'begin') return beginWith(state, event.orders, event.lamps)
    if (event.kind === 'timer') return retime(state, event.output, event.timer)
    const changed = express(state, event.part, event.expression)
    return changed === state
      ? { state, out: [] }
      : carryOut(changed, resounding(changed, event.part, event.expression))
  },
}

function carryOut(state: ResolveState, orders: readonly Order[]): Step<ResolveState, ResolveOut> {
  if (orders.length === 0) return { state, out: [] }
  const lamps = state.lamps.slice()
  const wishes: Wish[] = []
  const refused: ResolveOut[] = []
  for (const order of orders) {
    const { lamp } = order
    const before = lamps[lamp] ?? null
    if (order.kind === 'dark') {
      lamps[lamp] = null
      wishes.push({ lamp, state: DARK, gap: 0 })
      continue
    }
    const lit = light(state, order, before)
    if (lit) {
      lamps[lamp] = { part: order.part, voice: order.voice, lit }
      wishes.push({ lamp, state: lit, gap: state.config.parts[order.part]?.gap ?? 0 })
    } else refused.push({ kind: 'refused', lamp, part: order.part, note: order.voice.note, reason: 'range' })
  }
  return {
    state: { ...state, lamps },
    out: wishes.length > 0 ? [{ kind: 'wishes', wishes }, ...refused] : refused,
  }
}

function beginWith(
  state: ResolveState,
  orders: readonly Order[],
  before: readonly LampState[],
): Step<ResolveState, ResolveOut> {
  const lamps = state.lamps.slice()
  const begun = orders.map((order): Order => {
    if (order.kind === 'dark') return order
    const lit = before[order.lamp]
    const { voice, part } = order
    const goesOn =
      lit?.on === true &&
      voice.note > 0 &&
      lit.note === voice.note &&
      lit.player === state.config.parts[part]?.player
    if (goesOn) lamps[order.lamp] = { part, voice, lit }
    return { ...order, strike: !goesOn }
  })
  return carryOut({ ...state, lamps }, begun)
}

function light(
  state: ResolveState,
  order: Order & { kind: 'light' },
  before: Sounding | null,
): Lit | undefined {
  const place = state.config.lamps[order.lamp]
  const part = state.config.parts[order.part]
  if (!place || !part) return undefined
  const { lamp, output } = place
  const { voice } = order
  const bend = state.bends[order.part]?.[voice.channel - 1] ?? 0
  const asked = shiftByCents(
    keyToHz(part.tuning, voice.key) * voice.ratio,
    voice.cents + bend + lamp.trimCents,
  )
  const folded = foldIntoRange(asked, lamp.lowHz, lamp.highHz)
  if (!folded) return undefined
  const legato = !order.strike && before?.lit.drive.kind === 'bend' ? before.lit.drive.key : undefined
  const made = quantise(folded.hz, output, lamp.slot, legato)
  if (!made) return undefined
  const duty = Math.min(
    lamp.maxDuty,
    Math.max(lamp.minDuty, voice.duty ?? state.duties[order.part] ?? part.duty),
  )
  return {
    on: true,
    part: part.id,
    player: part.player,
    note: voice.note,
    key: voice.key,
    velocity: voice.velocity,
    hz: folded.hz,
    realHz: made.realHz,
    cents: made.cents,
    duty,
    drive: made.drive,
    strike: order.strike,
  }
}

/** The output's lamps go by the new timer from now on, those that sound as well. */
function retime(state: ResolveState, id: OutputId, timer: TimerSpec): Step<ResolveState, ResolveOut> {
  const lamps = state.config.lamps.map((place) => {
    const { lamp, output } = place
    return output.id === id && output.kind === 'serial' ? { lamp, output: { ...output, timer } } : place
  })
  const orders = state.lamps.flatMap((sounding, lamp): Order[] => {
    if (!sounding || lamps[lamp] === state.config.lamps[lamp]) return []
    return [{ kind: 'light', lamp, part: sounding.part, voice: sounding.voice, strike: false }]
  })
  return carryOut({ ...state, config: { ...state.config, lamps } }, orders)
}

function express(state: ResolveState, part: PartIndex, expression: Expression): ResolveState {
  if (expression.kind === 'duty') {
    return state.duties[part] === expression.duty
      ? state
      : { ...state, duties: state.duties.with(part, expression.duty) }
  }
  const bends = state.bends[part]
  if (!bends || bends[expression.channel - 1] === expression.cents) return state
  return { ...state, bends: state.bends.with(part, bends.with(expression.channel - 1, expression.cents)) }
}

/** The part's sounding lamps that an expression concerns, to be worked out anew. */
function resounding(state: ResolveState, part: PartIndex, expression: Expression): Order[] {
  const orders: Order[] = []
  for (const lamp of state.config.parts[part]?.lamps ?? []) {
    const sounding = state.lamps[lamp]
    if (!sounding || sounding.part !== part) continue
    const { voice } = sounding
    const concerned =
      expression.kind === 'duty' ? voice.duty === undefined : voice.channel === expression.channel
    if (concerned) orders.push({ kind: 'light', lamp, part, voice, strike: false })
  }
  return orders
}
