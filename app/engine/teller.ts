import type { FromEngine, PortStatus } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { SerialTimers } from './ports/serial-system.ts'

/** What the pieces of a session say to the outside. */
export class Teller {
  readonly say: (message: FromEngine) => void
  readonly #now: () => Micros
  readonly #count: (what: string) => void

  constructor(say: (message: FromEngine) => void, now: () => Micros, count: (what: string) => void) {
    this.say = say
    this.#now = now
    this.#count = count
  }

  port(port: PortStatus): void {
    this.say({ v: CONTRACT_VERSION, type: 'port', port })
  }

  report(level: 'info' | 'warning' | 'fault', source: string, code: string, message: string): void {
    const diagnostic = { level, source, code, message }
    this.say({ v: CONTRACT_VERSION, type: 'diagnostic', at: this.#now(), diagnostic })
  }

  /** One more of it in the account. */
  count(what: string): void {
    this.#count(what)
  }
}

/** Calls at once and then each `period`, until the answer is called. */
export function every(timers: SerialTimers, period: Micros, call: () => void): () => void {
  let cancel = (): void => {}
  const tick = (): void => {
    call()
    cancel = timers.at(timers.now() + period, tick)
  }
  tick()
  return () => cancel()
}
