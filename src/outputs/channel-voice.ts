import { bendForHz, bentKeyToHz } from '../domain/bent-key.ts'
import type { LampIndex } from '../domain/ids.ts'
import type { Lit } from '../domain/lamp-state.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import { centsBetween } from '../domain/pitch.ts'
import type { Channel, Hz, Key, Velocity } from '../domain/units.ts'

/** A lamp that has a MIDI channel to itself, and what was last sent there; null: nothing yet. */
export interface ChannelVoice {
  readonly index: LampIndex
  readonly channel: Channel
  readonly sounding: { readonly key: Key; readonly velocity: Velocity } | null
  readonly bend: number | null
  readonly duty: number | null
}

export interface ChannelSettings {
  readonly output: string
  readonly bendRange: number
  readonly bendBits: number
  readonly dutyController: number | null
}

/** What a lamp is to do: a new note, or a sounding one bent. */
export interface VoiceTarget {
  readonly strike: boolean
  readonly key: Key
  readonly velocity: Velocity
  readonly bend: number
  /** 0..127; null: not sent. */
  readonly duty: number | null
}

/** Cents: rounding of numbers, nothing that is heard. */
const SAME = 1e-6

/**
 * How `voice` comes to `lit`, so that it sounds `realHz` and nothing else. A change that is no strike bends the sounding key, exactly as resolved where the drive
 * was resolved from that key. From another key it is bent where one of the receiver's bends is `realHz`, as it is where
 * a semitone is whole steps; where none is, half a step off would be told wrongly, so the drive's key is struck.
 */
export function voiceTarget(voice: ChannelVoice, lit: Lit, settings: ChannelSettings): VoiceTarget {
  const { drive, velocity } = lit
  if (drive.kind !== 'bend') {
    throw new TypeError(
      `Output ${settings.output}, channel ${voice.channel}: a MIDI lamp needs a key, and got a timer rate; resolve it for this output`,
    )
  }
  const duty = settings.dutyController === null ? null : Math.round(lit.duty * 127)
  const { sounding } = voice
  if (sounding !== null && !lit.strike) {
    const bend = sounding.key === drive.key ? drive.bend : exactBend(lit.realHz, sounding.key, settings)
    if (bend !== undefined) return { strike: false, ...sounding, bend, duty }
  }
  return { strike: true, key: drive.key, velocity, bend: drive.bend, duty }
}

function exactBend(hz: Hz, key: Key, { bendRange, bendBits }: ChannelSettings): number | undefined {
  const bend = bendForHz(hz, key, bendRange, bendBits)
  if (bend === undefined) return undefined
  return Math.abs(centsBetween(bentKeyToHz(key, bend, bendRange), hz)) < SAME ? bend : undefined
}

/** Bend and duty where they differ from what the channel has, then the note-on of a strike. Its note-off went before. */
export function moveVoice(
  voice: ChannelVoice,
  target: VoiceTarget,
  settings: ChannelSettings,
): { readonly voice: ChannelVoice; readonly messages: readonly MidiMessage[] } {
  const { channel } = voice
  const { key, velocity, bend } = target
  const messages: MidiMessage[] = []
  if (bend !== voice.bend) messages.push({ type: 'bend', channel, value: bend })
  if (settings.dutyController !== null && target.duty !== null && target.duty !== voice.duty) {
    messages.push({ type: 'controller', channel, controller: settings.dutyController, value: target.duty })
  }
  if (target.strike) messages.push({ type: 'note-on', channel, key, velocity })
  return {
    voice: { ...voice, sounding: { key, velocity }, bend, duty: target.duty ?? voice.duty },
    messages,
  }
}
