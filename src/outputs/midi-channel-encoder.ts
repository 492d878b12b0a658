import type { MidiMessage } from '../domain/midi-message.ts'
import type { MidiOutput } from '../domain/rig.ts'
import type { Stage } from '../domain/stage.ts'
import { bySlot, changesBySlot, type Places, placesOf } from './changes-by-slot.ts'
import {
  type ChannelSettings,
  type ChannelVoice,
  moveVoice,
  type VoiceTarget,
  voiceTarget,
} from './channel-voice.ts'
import type { EncoderConfig, EncoderEvent, EncoderOut } from './encoder-event.ts'
import { bendRangeSetup, mpeZoneSetup } from './midi-setup.ts'
import { noteOff } from './note-off.ts'

export interface ChannelEncoderState extends ChannelSettings {
  readonly kind: 'channels'
  /** Member channels of the MPE lower zone; 0: no zone. */
  readonly members: number
  /** In slot order. */
  readonly voices: readonly ChannelVoice[]
  readonly places: Places
}

interface Move {
  readonly place: number
  readonly target: VoiceTarget | undefined
}

/**
 * A MIDI output on which every lamp has a channel: slot s on `firstChannel + s`, or, by MPE, on member channel 2 + s of a
 * lower zone, so that a note's bend never moves what another note leaves ringing. Of one moment's changes every note-off goes before anything else. A strike is bend, duty and note-on; a
 * change of a sounding voice is a bend where the range reaches. Opened again, it strikes again what is lit. `start`
 * throws RangeError for a lamp beyond channel 16.
 */
export const midiChannelEncoder: Stage<
  EncoderConfig<MidiOutput>,
  ChannelEncoderState,
  EncoderEvent,
  EncoderOut
> = {
  name: 'midi-channel-encoder',

  start({ output, lamps }) {
    const first = output.layout === 'mpe' ? 2 : output.firstChannel
    const voices = bySlot(lamps).map(({ index, slot }): ChannelVoice => {
      const channel = first + slot
      if (channel > 16) {
        throw new RangeError(
          `Output ${output.id}: slot ${slot} would be channel ${channel}, and MIDI has 16; use slots up to ${16 - first}`,
        )
      }
      return { index, channel, sounding: null, bend: null, duty: null }
    })
    return {
      kind: 'channels',
      output: output.id,
      bendRange: output.bendRange,
      bendBits: output.bendBits,
      dutyController: output.dutyController ?? null,
      members: output.layout === 'mpe' ? (voices.at(-1)?.channel ?? 1) - 1 : 0,
      voices,
      places: placesOf(voices),
    }
  },

  step(state, event) {
    switch (event.kind) {
      case 'open':
        return reopen(state)
      case 'changes': {
        const moves = changesBySlot(state.places, event.changes).map(({ place, state: lamp }): Move => {
          const voice = state.voices[place]
          return { place, target: voice && lamp.on ? voiceTarget(voice, lamp, state) : undefined }
        })
        return move(state, moves, [])
      }
      case 'dark-all':
      case 'close':
        return move(state, darkEverywhere(state), [])
      case 'beat':
        return { state, out: [] }
    }
  },
}

function darkEverywhere(state: ChannelEncoderState): Move[] {
  return state.voices.map((_, place) => ({ place, target: undefined }))
}

function reopen(state: ChannelEncoderState) {
  const channels = state.members
    ? Array.from({ length: state.members }, (_, member) => 2 + member)
    : state.voices.map((voice) => voice.channel)
  const setup = [
    ...(state.members ? mpeZoneSetup(state.members) : []),
    ...channels.flatMap((channel) => bendRangeSetup(channel, state.bendRange)),
  ]
  const again = state.voices.map(({ sounding, bend, duty }, place): Move => {
    return {
      place,
      target: sounding && bend !== null ? { strike: true, ...sounding, bend, duty } : undefined,
    }
  })
  // Whatever is at the other end may be new: it has heard of no bend and no duty.
  const moved = move(state, again, setup, { bend: null, duty: null })
  return moved
}

/** Note-offs of all that stop or are struck, then `between`, then each move in slot order. */
function move(
  state: ChannelEncoderState,
  moves: readonly Move[],
  between: readonly MidiMessage[],
  known: Partial<ChannelVoice> = {},
) {
  const voices = state.voices.map((voice): ChannelVoice => ({ ...voice, ...known }))
  const offs: MidiMessage[] = []
  const rest: MidiMessage[] = []
  for (const { place, target } of moves) {
    const voice = voices[place]
    if (voice === undefined) continue
    if (voice.sounding && (target?.strike ?? true)) offs.push(noteOff(voice.channel, voice.sounding.key))
    const moved = target
      ? moveVoice(voice, target, state)
      : { voice: { ...voice, sounding: null }, messages: [] }
    voices[place] = moved.voice
    rest.push(...moved.messages)
  }
  const out = [...offs, ...between, ...rest].map((message): EncoderOut => ({ kind: 'message', message }))
  return { state: { ...state, voices }, out }
}
