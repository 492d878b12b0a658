import type { Micros } from '../../src/domain/units.ts'
import type { Clock } from '../../src/time/clock.ts'

/** Timers may be a millisecond and more late; from here on we look ourselves. */
const LOOK_OURSELVES: Micros = 3_000
/** The longest a timer may be set for. */
const LONGEST_MS = 0x7fffffff

/**
 * The real clock. It waits with a timer until shortly before a call is due, then looks at the time again and again, letting whatever comes in between
 * be handled: punctual to a few microseconds on a quiet machine, and idle otherwise.
 */
export class RealClock implements Clock {
  readonly #began = process.hrtime.bigint()
  #timer: NodeJS.Timeout | undefined
  #immediate: NodeJS.Immediate | undefined
  #due: Micros = Infinity
  #call: () => void = () => {}

  now(): Micros {
    return Number((process.hrtime.bigint() - this.#began) / 1000n)
  }

  callAt(at: Micros, call: () => void): void {
    this.#call = call
    if (at === this.#due) return
    this.#clear()
    this.#due = at
    if (at !== Infinity) this.#wait()
  }

  stop(): void {
    this.#clear()
  }

  #wait(): void {
    const left = this.#due - this.now()
    if (left <= LOOK_OURSELVES) {
      this.#immediate = setImmediate(() => this.#look())
      return
    }
    const ms = Math.min(LONGEST_MS, Math.floor((left - LOOK_OURSELVES) / 1000))
    this.#timer = setTimeout(() => this.#wait(), ms)
  }

  #look(): void {
    if (this.now() >= this.#due) {
      this.#due = Infinity
      this.#call()
    } else this.#immediate = setImmediate(() => this.#look())
  }

  #clear(): void {
    clearTimeout(this.#timer)
    clearImmediate(this.#immediate)
    this.#due = Infinity
  }
}
