import { BEND_CENTRE, bendToCents } from '../domain/bend.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { PlayerEvent } from '../domain/player-event.ts'
import type { Channel, Cents } from '../domain/units.ts'

/** Where a channel's bender stands, and how far a full bend goes (semitones). */
export interface ChannelBend {
  readonly value: number
  readonly range: number
}

export function startBends(range: number): readonly ChannelBend[] {
  return Array.from({ length: 16 }, () => ({ value: BEND_CENTRE, range }))
}

/** The RPN of the bend range, MIDI 1.0 Detailed Specification: coarse value in semitones, fine value in cents. */
const BEND_RANGE = 0

/** The bends after a message, and the event where the pitch moved. */
export function stepBends(
  bends: readonly ChannelBend[],
  message: MidiMessage,
): { readonly bends: readonly ChannelBend[]; readonly event?: PlayerEvent } {
  if (message.type === 'bend') return setBend(bends, message.channel, { value: message.value })
  if (message.type === 'parameter' && message.registered && message.parameter === BEND_RANGE) {
    const range = (message.value >> 7) + Math.min(99, message.value & 0x7f) / 100
    return setBend(bends, message.channel, { range })
  }
  return { bends }
}

/** CC 121 centres the bender and leaves its range. */
export function centreBend(bends: readonly ChannelBend[], channel: Channel): ReturnType<typeof stepBends> {
  return setBend(bends, channel, { value: BEND_CENTRE })
}

/** Every bender back in the middle; ranges stay, as an instrument says them only once. */
export function centreBends(bends: readonly ChannelBend[]): readonly ChannelBend[] {
  return bends.map((bend) => ({ ...bend, value: BEND_CENTRE }))
}

function setBend(
  bends: readonly ChannelBend[],
  channel: Channel,
  change: Partial<ChannelBend>,
): ReturnType<typeof stepBends> {
  const before = bends[channel - 1]
  if (!before) return { bends }
  const after = { ...before, ...change }
  const cents = centsOf(after)
  const next = bends.with(channel - 1, after)
  return cents === centsOf(before)
    ? { bends: next }
    : { bends: next, event: { kind: 'bend', channel, cents } }
}

export function centsOf({ value, range }: ChannelBend): Cents {
  // Plus nothing: a bend down within no range is 0 and not -0, which JSON does not know.
  return bendToCents(value, range) + 0
}
