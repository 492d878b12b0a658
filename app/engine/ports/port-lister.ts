import type { NativeInput, NativeOutput } from './midi-module.ts'
import type { Millis } from './poll-timer.ts'

type Lister = NativeInput | NativeOutput

/** How often an empty list is distrusted. */
const RENEW_EVERY: Millis = 30_000

/**
 * Names of ports through one native object that is never opened. The module's own list function makes a client of the sound system
 * at each call, and its inputs are never collected as garbage; asking one object costs some 25 microseconds.
 * A sound server that died leaves the object blind for good (it lists nothing): when the list runs empty, the object is renewed once, and
 * again every 30 s while it stays empty.
 */
export class PortLister {
  readonly #make: () => Lister
  #lister: Lister | undefined
  #filled = false
  #renewed: Millis = 0

  constructor(make: () => Lister) {
    this.#make = make
  }

  /** Throws what the native module throws. */
  names(now: Millis): string[] {
    const names = this.#ask()
    if (names.length > 0) {
      this.#filled = true
      return names
    }
    if (!this.#filled && now - this.#renewed < RENEW_EVERY) return names
    this.#filled = false
    this.#renewed = now
    this.close()
    return this.#ask()
  }

  close(): void {
    const lister = this.#lister
    this.#lister = undefined
    lister?.destroy()
  }

  #ask(): string[] {
    const lister = (this.#lister ??= this.#make())
    return Array.from({ length: lister.getPortCount() }, (_, place) => lister.getPortName(place))
  }
}
