import type { MidiMessage } from '../domain/midi-message.ts'
import type { Stage } from '../domain/stage.ts'
import type { Channel } from '../domain/units.ts'
import {
  CC_DATA_ENTRY_LSB,
  CC_DATA_ENTRY_MSB,
  CC_DATA_INCREMENT,
  CC_NON_REGISTERED_LSB,
  CC_NON_REGISTERED_MSB,
  CC_REGISTERED_LSB,
  CC_REGISTERED_MSB,
  CC_RESET_ALL,
  PARAMETER_NULL,
} from './controllers.ts'
import { initialParameterValue, stepParameterValue } from './parameter-value.ts'

/** What one channel has selected, and what the registered parameters hold. */
interface ChannelParameters {
  readonly registered: boolean
  /** Halves of the selected parameter's number; -1: not given yet. */
  readonly msb: number
  readonly lsb: number
  /** The selected parameter's value; -1: unknown. */
  readonly value: number
  /** Values of the registered parameters 0..127, which a later selection comes back to. */
  readonly kept: Readonly<Record<string, number>>
}

/** By channel number. */
export type ParametersState = Readonly<Record<string, ChannelParameters>>

const NOTHING: ChannelParameters = { registered: true, msb: -1, lsb: -1, value: -1, kept: {} }
/** Only this many parameters are remembered past their selection, so that the state stays small. All defined ones are below. */
const KEPT = 128

/**
 * Passes every message on, and after one that sets a (non-)registered parameter adds the `parameter` it makes: number
 * and value of 14 bits, per channel. Setting the upper half zeroes the lower (as for all 14-bit controllers); 7F 7F
 * selects nothing. MIDI 1.0 Detailed Specification. CC 121 selects nothing and keeps the values: MMA RP-015, from
 * memory. A reset (FF) forgets all.
 */
export const parameters: Stage<void, ParametersState, MidiMessage, MidiMessage> = {
  name: 'parameters',
  start: () => ({}),
  step(state, message) {
    if (message.type === 'reset') return { state: {}, out: [message] }
    if (message.type === 'parameter') {
      const before = state[message.channel] ?? NOTHING
      const select = selected(before, message.registered, message.parameter >> 7, message.parameter & 0x7f)
      const next = { ...withValue(select, message.value), ...UNSELECTED }
      return { state: { ...state, [message.channel]: next }, out: [message] }
    }
    if (message.type !== 'controller' || !concerns(message.controller)) return { state, out: [message] }
    const before = state[message.channel] ?? NOTHING
    const after = afterController(before, message.controller, message.value)
    if (after === before) return { state, out: [message] }
    const entry = message.controller < CC_NON_REGISTERED_LSB
    return {
      state: { ...state, [message.channel]: after },
      out: entry ? [message, parameterOf(message.channel, after)] : [message],
    }
  },
}

const UNSELECTED = { registered: true, msb: -1, lsb: -1, value: -1 }

function concerns(controller: number): boolean {
  return (
    controller === CC_DATA_ENTRY_MSB ||
    controller === CC_DATA_ENTRY_LSB ||
    (controller >= CC_DATA_INCREMENT && controller <= CC_REGISTERED_MSB) ||
    controller === CC_RESET_ALL
  )
}

/** The same object back: nothing was selected, so nothing happens. A new one after a data entry: it set a value. */
function afterController(before: ChannelParameters, controller: number, value: number): ChannelParameters {
  switch (controller) {
    case CC_REGISTERED_MSB:
      return selected(before, true, value, before.registered ? before.lsb : -1)
    case CC_REGISTERED_LSB:
      return selected(before, true, before.registered ? before.msb : -1, value)
    case CC_NON_REGISTERED_MSB:
      return selected(before, false, value, before.registered ? -1 : before.lsb)
    case CC_NON_REGISTERED_LSB:
      return selected(before, false, before.registered ? -1 : before.msb, value)
    case CC_RESET_ALL:
      return { ...before, ...UNSELECTED }
    default:
      return afterEntry(before, controller, value)
  }
}

function afterEntry(before: ChannelParameters, controller: number, value: number): ChannelParameters {
  const parameter = numberOf(before)
  if (parameter < 0 || parameter === PARAMETER_NULL) return before
  if (controller === CC_DATA_ENTRY_MSB) return withValue(before, value << 7)
  if (controller === CC_DATA_ENTRY_LSB) return withValue(before, (Math.max(0, before.value) & 0x3f80) | value)
  // An unknown value cannot be counted from; the message itself still passes.
  if (before.value < 0) return before
  const by = controller === CC_DATA_INCREMENT ? 1 : -1
  return withValue(before, stepParameterValue(before.registered, parameter, before.value, by))
}

/** 0..16383, or -1 while a half is missing. */
function numberOf(channel: ChannelParameters): number {
  return channel.msb < 0 || channel.lsb < 0 ? -1 : (channel.msb << 7) | channel.lsb
}

/** Naming the other kind forgets this kind's halves: half of an old number must not complete a new one. */
function selected(
  before: ChannelParameters,
  registered: boolean,
  msb: number,
  lsb: number,
): ChannelParameters {
  const next = { ...before, registered, msb, lsb }
  const parameter = numberOf(next)
  const same = before.registered === registered && numberOf(before) === parameter
  if (same) return next
  const kept = registered ? before.kept[parameter] : undefined
  return { ...next, value: kept ?? initialParameterValue(registered, parameter) ?? -1 }
}

function withValue(before: ChannelParameters, value: number): ChannelParameters {
  const parameter = numberOf(before)
  const keep = before.registered && parameter < KEPT
  return { ...before, value, kept: keep ? { ...before.kept, [parameter]: value } : before.kept }
}

function parameterOf(channel: Channel, channelState: ChannelParameters): MidiMessage {
  const { registered, value } = channelState
  return { type: 'parameter', registered, channel, parameter: numberOf(channelState), value }
}
