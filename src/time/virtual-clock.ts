import type { Micros } from '../domain/units.ts'
import type { Clock } from './clock.ts'

/** A clock that stands until it is moved, and then steps to each due moment in order, telling each its own time. */
export class VirtualClock implements Clock {
  #now: Micros = 0
  #due: Micros = Infinity
  #call: () => void = () => {}

  now(): Micros {
    return this.#now
  }

  callAt(at: Micros, call: () => void): void {
    this.#due = at
    this.#call = call
  }

  stop(): void {
    this.#due = Infinity
  }

  /** Moves on to `until`. Throws a RangeError where that is past. */
  moveTo(until: Micros): void {
    if (until < this.#now) throw new RangeError(`a clock runs one way: ${until} is before ${this.#now}`)
    while (this.#due <= until) {
      this.#now = Math.max(this.#now, this.#due)
      this.#due = Infinity
      this.#call()
    }
    this.#now = until
  }
}
