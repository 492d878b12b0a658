import type { Micros } from '../domain/units.ts'

/** How long something was on, over time, in a fixed number of buckets that grow with the performance. */
export interface LitTime {
  /** On from `from` to `to`; spans in order, without overlap. */
  add(from: Micros, to: Micros): void
  /** On-fraction 0..1 of each of `columns` equal stretches of 0..endAt. */
  fractions(columns: number, endAt: Micros): readonly number[]
}

/** Time lit, and where in the bucket it starts and ends, so that it can be laid on columns that cut buckets. */
interface Bucket {
  lit: Micros
  first: Micros
  last: Micros
}

/** When the time runs past the last bucket, every two become one twice as long: bounded memory, unknown length. */
export function createLitTime(count: number): LitTime {
  const buckets = Array.from({ length: count }, emptyBucket)
  let length: Micros = 1000

  function grow(to: Micros): void {
    while (to > length * count) {
      for (let i = 0; i < count; i++) buckets[i] = joined(buckets[2 * i], buckets[2 * i + 1])
      length *= 2
    }
  }

  return {
    add(from, to) {
      grow(to)
      for (let at = from; at < to;) {
        const index = Math.floor(at / length)
        const next = Math.min(to, (index + 1) * length)
        buckets[index] = joined(buckets[index], { lit: next - at, first: at, last: next })
        at = next
      }
    },
    fractions(columns, endAt) {
      const width = endAt / columns
      return Array.from({ length: columns }, (_, column) => {
        const from = column * width
        const to = from + width
        let sum = 0
        for (let i = Math.floor(from / length); i < count && i * length < to; i++) {
          const { lit, first, last } = buckets[i]!
          const overlap = Math.min(to, last) - Math.max(from, first)
          if (overlap > 0) sum += lit * (overlap / (last - first))
        }
        return width > 0 ? Math.min(1, sum / width) : 0
      })
    },
  }
}

function emptyBucket(): Bucket {
  return { lit: 0, first: Infinity, last: -Infinity }
}

function joined(a: Bucket = emptyBucket(), b: Bucket = emptyBucket()): Bucket {
  return { lit: a.lit + b.lit, first: Math.min(a.first, b.first), last: Math.max(a.last, b.last) }
}
