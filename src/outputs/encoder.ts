import type { Output } from '../domain/rig.ts'
import type { Stage } from '../domain/stage.ts'
import type { EncoderConfig, EncoderEvent, EncoderOut } from './encoder-event.ts'
import { type ChannelEncoderState, midiChannelEncoder } from './midi-channel-encoder.ts'
import { midiNoteEncoder, type NoteEncoderState } from './midi-note-encoder.ts'
import { serialEncoder, type SerialEncoderState } from './serial-encoder.ts'

export type EncoderState = SerialEncoderState | ChannelEncoderState | NoteEncoderState

export type Encoder = Stage<EncoderConfig, EncoderState, EncoderEvent, EncoderOut>

/** The stage that speaks to `output`, by its kind and layout; named after it. */
export function encoderFor(output: Output): Encoder {
  return {
    name: `encoder ${output.id}`,
    start: (config) => startEncoder(config),
    step(state, event, now) {
      switch (state.kind) {
        case 'serial':
          return serialEncoder.step(state, event, now)
        case 'channels':
          return midiChannelEncoder.step(state, event, now)
        case 'notes':
          return midiNoteEncoder.step(state, event, now)
      }
    },
  }
}

function startEncoder({ output, lamps }: EncoderConfig): EncoderState {
  if (output.kind === 'serial') return serialEncoder.start({ output, lamps })
  if (output.layout === 'note-per-lamp') return midiNoteEncoder.start({ output, lamps })
  return midiChannelEncoder.start({ output, lamps })
}
