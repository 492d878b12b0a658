import { bendForHz } from '../domain/bent-key.ts'
import type { LampIndex } from '../domain/ids.ts'
import type { Lit } from '../domain/lamp-state.ts'
import type { MidiMessage } from '../domain/midi-message.ts'
import type { Channel, Key, Velocity } from '../domain/units.ts'

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

/**
 * How `voice` comes to `lit`. A change that is no strike bends the sounding key where the bend range reaches, exactly as
 * resolved where the drive was resolved from that key. From another key it is bent to `realHz`: the same to the last bit
 * where the range is a power of two, else within half a bend step (range x 100 / 16384 cents) of it.
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
    const same = sounding.key === drive.key
    const bend = same ? drive.bend : bendForHz(lit.realHz, sounding.key, settings.bendRange)
    if (bend !== undefined) return { strike: false, ...sounding, bend, duty }
  }
  return { strike: true, key: drive.key, velocity, bend: drive.bend, duty }
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
