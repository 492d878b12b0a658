import type { ClockMessage } from '../time/clock-message.ts'
import {
  CLOCKS_A_SIXTEENTH,
  CONTINUE,
  SONG_POSITION,
  START,
  STOP,
  TIMING_CLOCK,
} from '../time/clock-message.ts'

/** The clock messages among the bytes of a port, in order; all else is left out. Pieces hold whole messages; real-time bytes may stand between those of others. */
export function clockMessages(bytes: Uint8Array | readonly number[]): ClockMessage[] {
  const messages: ClockMessage[] = []
  /** Data bytes of a song position so far: low seven bits first. */
  let position: number[] | undefined
  for (const byte of bytes) {
    if (byte === TIMING_CLOCK) messages.push({ kind: 'clock' })
    else if (byte === START) messages.push({ kind: 'start' })
    else if (byte === CONTINUE) messages.push({ kind: 'continue' })
    else if (byte === STOP) messages.push({ kind: 'stop' })
    else if (byte > TIMING_CLOCK) continue
    else if (byte >= 0x80) position = byte === SONG_POSITION ? [] : undefined
    else if (position) {
      position.push(byte)
      const [low = 0, high] = position
      if (high === undefined) continue
      messages.push({ kind: 'position', clocks: (low + 128 * high) * CLOCKS_A_SIXTEENTH })
      position = undefined
    }
  }
  return messages
}
