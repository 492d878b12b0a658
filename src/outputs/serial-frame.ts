import type { Hz } from '../domain/units.ts'

/** Version of the frames that this program speaks. */
export const SERIAL_VERSION = 1

/** What a lamp is set to. */
export interface LampSetting {
  /** The lamp's number on its output. */
  readonly slot: number
  /** Hz x 65536; 0 is dark. */
  readonly rate: number
  /** 65535 is always on. */
  readonly duty: number
}

/** What the host sends. `sequence` 0..255 counts frames and wraps. */
export type HostFrame =
  | { readonly type: 'hello'; readonly sequence: number; readonly version: number }
  /** `at`: the box's microseconds, wrapping at 2^32; 0 is now. */
  | {
      readonly type: 'set'
      readonly sequence: number
      readonly at: number
      readonly lamps: readonly LampSetting[]
    }
  /** Every lamp dark. */
  | { readonly type: 'dark'; readonly sequence: number }
  /** Still here. `micros`: the host's, wrapping at 2^32. */
  | { readonly type: 'beat'; readonly sequence: number; readonly micros: number }

export type ReplyStatus = 'done' | 'no-such-slot' | 'late' | 'refused'

/** In the order of their numbers on the wire, from 0. */
export const REPLY_STATUSES: readonly ReplyStatus[] = ['done', 'no-such-slot', 'late', 'refused']

/** What the lamp box sends. */
export type BoxFrame =
  | {
      readonly type: 'identity'
      readonly sequence: number
      readonly version: number
      readonly lamps: number
      readonly clockHz: Hz
      readonly bits: number
      readonly prescalers: readonly number[]
    }
  /** `answers`: the sequence number of the frame that this is about. `micros`: the box's, wrapping at 2^32. */
  | {
      readonly type: 'reply'
      readonly sequence: number
      readonly answers: number
      readonly status: ReplyStatus
      readonly micros: number
    }

export type SerialFrame = HostFrame | BoxFrame

/** The first byte of each frame's payload. */
export const FRAME_TYPES = {
  hello: 0x01,
  set: 0x02,
  dark: 0x03,
  beat: 0x04,
  identity: 0x81,
  reply: 0x82,
} as const

/**
 * Most lamps in one set frame that still fit one COBS block: type, sequence, at and count are 7 bytes, a lamp 7, the CRC 2,
 * so 35 lamps make 7 + 35 x 7 + 2 = 254, the longest run there is. On the wire 256 bytes with code byte and delimiter.
 */
export const MAX_LAMPS_A_SET = 35
