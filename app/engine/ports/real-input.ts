import type { NativeInput } from './midi-module.ts'
import type { Heard, MidiInputPort } from './midi-system.ts'

/** Inputs that must not be closed; held for the life of the process. */
const abandoned = new Set<NativeInput>()

/**
 * One opening of one input. The native object is used once: an input that is closed and opened again in one turn is closed again by
 * what the first closing left behind.
 */
export class RealInput implements MidiInputPort {
  readonly name: string
  onClose: (() => void) | undefined
  readonly #input: NativeInput
  readonly #isListed: () => boolean
  #closed = false
  #inside = false

  constructor(input: NativeInput, name: string, heard: Heard, isListed: () => boolean) {
    this.name = name
    this.#input = input
    this.#isListed = isListed
    input.ignoreTypes(false, false, false)
    input.on('messageBuffer', (_delta, bytes) => {
      if (this.#closed || bytes.length === 0) return
      this.#inside = true
      try {
        heard(bytes)
      } catch (thrown) {
        // The native side swallows what is thrown here; a fault must not vanish.
        setImmediate(() => {
          throw thrown
        })
      } finally {
        this.#inside = false
      }
    })
  }

  open(place: number): void {
    this.#input.openPort(place)
  }

  openVirtual(): void {
    this.#input.openVirtualPort(this.name)
  }

  close(): void {
    if (this.#closed) return
    this.#closed = true
    this.#input.removeAllListeners()
    this.onClose?.()
    // On Windows, closing an input whose device is gone throws through native code, which ends the process.
    if (process.platform === 'win32' && !this.#isListed()) abandoned.add(this.#input)
    // Closing takes down the queue whose message is being handled.
    else if (this.#inside) setImmediate(() => this.#input.destroy())
    else this.#input.destroy()
  }
}
