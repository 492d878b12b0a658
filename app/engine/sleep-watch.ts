import type { Micros } from '../../src/domain/units.ts'
import type { SerialTimers } from './ports/serial-system.ts'

/** A lamp box that is plugged in by the waking machine is greeted a quarter of a second later at the soonest. */
const LOOKS_EVERY: Micros = 200_000
/** Some systems tell their uptime in whole seconds. */
const SLEPT: Micros = 2_000_000

/**
 * Sees that the machine slept although nobody said so, where the clock that we go by stands still meanwhile: Linux's CLOCK_MONOTONIC does, as against
 * CLOCK_BOOTTIME (clock_gettime(2)), by which the uptime is counted.
 */
export class SleepWatch {
  readonly #timers: SerialTimers
  readonly #uptime: () => Micros
  readonly #slept: (away: Micros) => void
  #atUptime: Micros
  #atClock: Micros

  /** `slept`: for so long, as the uptime has it. */
  constructor(timers: SerialTimers, uptime: () => Micros, slept: (away: Micros) => void) {
    this.#timers = timers
    this.#uptime = uptime
    this.#slept = slept
    this.#atUptime = uptime()
    this.#atClock = timers.now()
    this.#wait()
  }

  /** That sleep is over, and known. */
  renew(): void {
    this.#atUptime = this.#uptime()
    this.#atClock = this.#timers.now()
  }

  #wait(): void {
    this.#timers.at(this.#timers.now() + LOOKS_EVERY, () => {
      const away = this.#uptime() - this.#atUptime - (this.#timers.now() - this.#atClock)
      this.renew()
      if (away > SLEPT) this.#slept(away)
      this.#wait()
    })
  }
}
