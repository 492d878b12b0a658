import type { Spread } from '../../src/contract/from-engine.ts'
import type { Micros } from '../../src/domain/units.ts'

/** Buckets of 2 % width from 1 microsecond up: 1,000 of them reach past six minutes. */
const GROWTH = Math.log(1.02)
const BUCKETS = 1_000

/** Octaves from 1 microsecond up: past 25 days. */
const OCTAVES = 42

/** A bin: times up to and including `upTo`, and above the end of the octave below. */
export interface Bin {
  readonly upTo: Micros
  readonly count: number
}

/** How times spread, in constant memory; each is right to within 2 %. */
export class Histogram {
  readonly #buckets = new Uint32Array(BUCKETS)
  readonly #octaves = new Uint32Array(OCTAVES)
  #count = 0
  #max: Micros = 0

  add(micros: Micros): void {
    const bucket = micros <= 1 ? 0 : Math.min(BUCKETS - 1, Math.ceil(Math.log(micros) / GROWTH))
    this.#buckets[bucket] = (this.#buckets[bucket] ?? 0) + 1
    const octave = micros <= 1 ? 0 : Math.min(OCTAVES - 1, octaveOf(micros))
    this.#octaves[octave] = (this.#octaves[octave] ?? 0) + 1
    this.#count++
    if (micros > this.#max) this.#max = micros
  }

  spread(): Spread {
    return {
      count: this.#count,
      p50: this.#at(0.5),
      p95: this.#at(0.95),
      p99: this.#at(0.99),
      max: Math.round(this.#max),
    }
  }

  /** Bins an octave wide, their ends powers of two microseconds, exact; empty ones left out. */
  bins(): Bin[] {
    return Array.from(this.#octaves).flatMap((count, octave) =>
      count === 0 ? [] : [{ upTo: 2 ** octave, count }],
    )
  }

  /** Upper end of the bucket in which the share lies, rounded to a tenth. */
  #at(share: number): Micros {
    if (this.#count === 0) return 0
    const rank = Math.ceil(this.#count * share)
    let seen = 0
    for (let bucket = 0; bucket < BUCKETS; bucket++) {
      seen += this.#buckets[bucket] ?? 0
      if (seen >= rank) return Math.min(this.#max, Math.round(10 * Math.exp(bucket * GROWTH)) / 10)
    }
    return this.#max
  }
}

/** The first octave whose end 2^octave is not below `micros`, which are more than 1. The logarithm is only a guess. */
function octaveOf(micros: Micros): number {
  const guess = Math.max(0, Math.ceil(Math.log2(micros)) - 1)
  return 2 ** guess >= micros ? guess : guess + 1
}
