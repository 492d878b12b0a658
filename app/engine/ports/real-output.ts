import { asMidiError, MidiError } from './midi-error.ts'
import type { NativeOutput } from './midi-module.ts'
import type { MidiOutputPort } from './midi-system.ts'

/** One opening of one output. The native object is used once. */
export class RealOutput implements MidiOutputPort {
  readonly name: string
  onClose: (() => void) | undefined
  readonly #output: NativeOutput
  #closed = false

  constructor(output: NativeOutput, name: string) {
    this.name = name
    this.#output = output
  }

  open(place: number): void {
    this.#output.openPort(place)
  }

  openVirtual(): void {
    this.#output.openVirtualPort(this.name)
  }

  send(bytes: Uint8Array): void {
    if (this.#closed)
      throw new MidiError('gone', `The MIDI output "${this.name}" is closed. Open it again before sending.`)
    if (bytes.length === 0) return
    try {
      this.#output.sendMessage(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength))
    } catch (thrown) {
      throw asMidiError(
        thrown,
        'gone',
        `The MIDI output "${this.name}" takes nothing more. Look at its cable, or choose another port.`,
      )
    }
  }

  close(): void {
    if (this.#closed) return
    this.#closed = true
    this.onClose?.()
    this.#output.destroy()
  }
}
