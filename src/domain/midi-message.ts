import type { Channel, Key } from './units.ts'

/** A MIDI 1.0 message as data. `parameter` is a whole (non-)registered parameter change, put together from its controllers. */
export type MidiMessage =
  | { readonly type: 'note-on'; readonly channel: Channel; readonly key: Key; readonly velocity: number }
  | { readonly type: 'note-off'; readonly channel: Channel; readonly key: Key; readonly velocity: number }
  | { readonly type: 'key-pressure'; readonly channel: Channel; readonly key: Key; readonly value: number }
  | {
      readonly type: 'controller'
      readonly channel: Channel
      readonly controller: number
      readonly value: number
    }
  | { readonly type: 'program'; readonly channel: Channel; readonly program: number }
  | { readonly type: 'channel-pressure'; readonly channel: Channel; readonly value: number }
  /** 0..16383, centre 8192. */
  | { readonly type: 'bend'; readonly channel: Channel; readonly value: number }
  /** `parameter` and `value` are 14 bit. Written as its controllers, the parameter then set to null (7F 7F). */
  | {
      readonly type: 'parameter'
      readonly registered: boolean
      readonly channel: Channel
      readonly parameter: number
      readonly value: number
    }
  /** What stands between F0 and F7. */
  | { readonly type: 'sysex'; readonly data: readonly number[] }
  | { readonly type: 'quarter-frame'; readonly value: number }
  /** In units of six clocks. */
  | { readonly type: 'song-position'; readonly position: number }
  | { readonly type: 'song-select'; readonly song: number }
  | { readonly type: 'tune-request' }
  | { readonly type: 'clock' | 'start' | 'continue' | 'stop' | 'active-sensing' | 'reset' }
