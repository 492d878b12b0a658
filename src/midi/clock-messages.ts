import type { ClockMessage } from '../time/clock-message.ts'

/** A song position counts sixteenths (MIDI 1.0 Detailed Specification, Song Position Pointer). */
const CLOCKS_A_SIXTEENTH = 6

/** The clock messages among the bytes of a port, in order; all else is left out. Pieces hold whole messages; real-time bytes may stand between those of others. */
export function clockMessages(bytes: Uint8Array | readonly number[]): ClockMessage[] {
  const messages: ClockMessage[] = []
  /** Data bytes of a song position so far: low seven bits first. */
  let position: number[] | undefined
  for (const byte of bytes) {
    if (byte === 0xf8) messages.push({ kind: 'clock' })
    else if (byte === 0xfa) messages.push({ kind: 'start' })
    else if (byte === 0xfb) messages.push({ kind: 'continue' })
    else if (byte === 0xfc) messages.push({ kind: 'stop' })
    else if (byte > 0xf8) continue
    else if (byte >= 0x80) position = byte === 0xf2 ? [] : undefined
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
