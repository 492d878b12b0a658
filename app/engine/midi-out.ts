import type { MidiOutput } from '../../src/domain/rig.ts'

/** What a MIDI output's port takes; false where it is not there. */
export type SendBytes = (bytes: Uint8Array) => boolean

/**
 * What goes to one MIDI output. It keeps its own account of the notes it left sounding, from the bytes alone, so that it can end them whatever has become of
 * the graph.
 */
export class MidiOut {
  readonly #send: SendBytes
  readonly #sounding = new Set<number>()
  /** Bytes for a port that was not there. */
  dropped = 0

  constructor(send: SendBytes) {
    this.#send = send
  }

  send(bytes: Uint8Array): void {
    this.#account(bytes)
    if (!this.#send(bytes)) this.dropped++
  }

  /** Ends every note that is known to sound. */
  darkNow(): void {
    for (const note of this.#sounding) this.#send(Uint8Array.of(0x80 | (note >> 7), note & 0x7f, 64))
    this.#sounding.clear()
  }

  /** An engine before this one may have left notes: all sound off and all notes off on the lamps' channels (MIDI 1.0 Detailed Specification, CC 120 and 123). */
  recover(output: MidiOutput, slots: readonly number[]): void {
    for (const channel of lampChannels(output, slots)) {
      for (const controller of [120, 123]) this.#send(Uint8Array.of(0xb0 | (channel - 1), controller, 0))
    }
    if (output.layout !== 'note-per-lamp') return
    for (const slot of slots)
      this.#send(Uint8Array.of(0x80 | (output.firstChannel - 1), output.firstNote + slot, 64))
  }

  #account(bytes: Uint8Array): void {
    const kind = (bytes[0] ?? 0) & 0xf0
    if (kind !== 0x80 && kind !== 0x90) return
    const note = (((bytes[0] ?? 0) & 0x0f) << 7) | (bytes[1] ?? 0)
    if (kind === 0x90 && (bytes[2] ?? 0) > 0) this.#sounding.add(note)
    else this.#sounding.delete(note)
  }
}

function lampChannels(output: MidiOutput, slots: readonly number[]): number[] {
  if (output.layout === 'note-per-lamp') return [output.firstChannel]
  const first = output.layout === 'mpe' ? 2 : output.firstChannel
  return slots.map((slot) => first + slot).filter((channel) => channel <= 16)
}
