import type { MidiMessage } from '../domain/midi-message.ts'
import { decode, type DecoderState } from './decode.ts'

const IDLE = decode.start()

/**
 * Puts together the system exclusives of a track, which may stand in several packets (F0 …, then F7 …), and takes the
 * raw bytes that an F7 packet may hold otherwise. Standard MIDI Files 1.0, "Sysex Events". The packets' bytes go through
 * the same decoder as a cable's.
 */
export class PacketReader {
  private state: DecoderState = IDLE

  /** `marker` F0 or F7 and the packet's data. Complaints go to `complain`. */
  read(marker: number, data: Uint8Array, complain: (what: string) => void): MidiMessage[] {
    const messages: MidiMessage[] = []
    if (marker === 0xf0) this.feed([0xf0], messages, complain)
    this.feed(data, messages, complain)
    if (this.state.status !== 0) complain('a message cut off at the end of its packet')
    if (!this.open()) this.state = IDLE
    return messages
  }

  /** An event that cannot stand inside a system exclusive comes: true if one was open, which is dropped. */
  interrupt(): boolean {
    const wasOpen = this.open()
    this.state = IDLE
    return wasOpen
  }

  private open(): boolean {
    return this.state.sysex !== null || this.state.skipping
  }

  private feed(bytes: Uint8Array | number[], into: MidiMessage[], complain: (what: string) => void): void {
    const step = decode.step(this.state, bytes, 0)
    this.state = step.state
    for (const message of step.out) {
      if (message.type === 'malformed') complain(message.why)
      else into.push(message)
    }
  }
}
