import type { SerialTimers } from '../../app/engine/ports/serial-system.ts'
import type { Micros } from '../../src/domain/units.ts'

interface Call {
  readonly at: Micros
  readonly run: () => void
}

/** Time that a test moves on: each call at its time, those of one time in the order they were asked for. */
export class VirtualTimers implements SerialTimers {
  #now: Micros = 1_000_000
  #calls: Call[] = []

  now(): Micros {
    return this.#now
  }

  at(at: Micros, run: () => void): () => void {
    const call = { at: Math.max(at, this.#now), run }
    this.#calls.push(call)
    return () => {
      const place = this.#calls.indexOf(call)
      if (place >= 0) this.#calls.splice(place, 1)
    }
  }

  get size(): number {
    return this.#calls.length
  }

  /** Up to and with `until`, without letting promises go on. */
  runUntil(until: Micros): void {
    while (this.#runNext(until));
    this.#now = until
  }

  run(micros: Micros): void {
    this.runUntil(this.#now + micros)
  }

  /** We are held up: time goes on and nothing happens; what was due meanwhile comes late. */
  skip(micros: Micros): void {
    this.#now += micros
  }

  /** So far on, promises settled after each call. */
  async pass(micros: Micros): Promise<void> {
    const until = this.#now + micros
    await settled()
    while (this.#runNext(until)) await settled()
    this.#now = until
  }

  #runNext(until: Micros): boolean {
    let next: Call | undefined
    for (const call of this.#calls) if (!next || call.at < next.at) next = call
    if (!next || next.at > until) return false
    this.#calls.splice(this.#calls.indexOf(next), 1)
    this.#now = Math.max(this.#now, next.at)
    next.run()
    return true
  }
}

/** Lets promises that are kept go on; a few turns, as they wait for each other. */
async function settled(): Promise<void> {
  for (let turn = 0; turn < 8; turn++) await Promise.resolve()
}
