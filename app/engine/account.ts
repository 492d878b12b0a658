import type { FromEngine } from '../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import type { Micros } from '../../src/domain/units.ts'
import { Histogram } from './histogram.ts'

/** A step taken later than this is counted as late. */
const LATE: Micros = 1_000

/** How it goes: how long things take, and how often what happened. */
export class Account {
  readonly #latency = new Histogram()
  readonly #lateness = new Histogram()
  readonly #counts = new Map<string, number>()

  count(what: string): void {
    this.#counts.set(what, (this.#counts.get(what) ?? 0) + 1)
  }

  /** From an input to its bytes at the port. */
  took(time: Micros): void {
    this.#latency.add(time)
  }

  /** A step was taken so long after it was due. */
  woke(late: Micros): void {
    this.#lateness.add(Math.max(0, late))
    if (late > LATE) this.count('late wakes')
  }

  /** `present`: counts that others keep; those of nothing are left out. */
  figures(at: Micros, present: Readonly<Record<string, number | undefined>>): FromEngine {
    const others = Object.entries(present).flatMap(([what, count]) =>
      count === undefined ? [] : [[what, count] as const],
    )
    return {
      v: CONTRACT_VERSION,
      type: 'figures',
      at,
      latency: this.#latency.spread(),
      latencyBins: this.#latency.bins(),
      lateness: this.#lateness.spread(),
      counts: Object.fromEntries([...this.#counts, ...others]),
    }
  }
}
