import type { Heard } from './midi-system.ts'

/** How many sent messages a device keeps; the oldest go first. */
const KEPT = 100_000

/** A device of `MemoryMidi`: plays into Lanthorn (as an input), or takes what Lanthorn sends (as an output). */
export class MemoryDevice {
  name: string
  plugged = false
  /** Another program holds it: it does not open. */
  heldByOther = false
  /** What it was sent, with times. */
  readonly sent: { readonly at: number; readonly bytes: Uint8Array }[] = []
  /** Hears what it is sent, at once: for wiring it to an input. */
  onSent: Heard | undefined
  /** Who listens. One at most, if all is well. */
  readonly ears = new Set<Heard>()
  /** How many hold it open for sending. One at most, if all is well. */
  open = 0
  /** Counts its pluggings. */
  turn = 0

  constructor(name: string) {
    this.name = name
  }

  /** It plays. Nobody hears it while it is pulled. */
  deliver(bytes: Uint8Array): void {
    if (!this.plugged) return
    for (const ear of this.ears) ear(bytes.slice())
  }

  /** For `MemoryMidi`: it is sent a message. */
  take(bytes: Uint8Array, at: number): void {
    const copy = bytes.slice()
    if (this.sent.length >= KEPT) this.sent.splice(0, KEPT / 2)
    this.sent.push({ at, bytes: copy })
    this.onSent?.(copy)
  }
}
