/** A whole number and the part of one more, `rest`/denominator: exact. */
export interface Exact {
  readonly whole: number
  readonly rest: number
}

/**
 * `from` + `count` * `numerator` / `denominator`, exact: all whole and not negative, `from.rest` < `denominator`. Held at
 * 2^53 - 1 (285 years of microseconds), where whole numbers end.
 */
export function addScaled(from: Exact, count: number, numerator: number, denominator: number): Exact {
  const sum = from.rest + count * numerator
  if (sum <= Number.MAX_SAFE_INTEGER) {
    const rest = sum % denominator
    return held(from.whole + (sum - rest) / denominator, rest)
  }
  const big = BigInt(from.rest) + BigInt(count) * BigInt(numerator)
  const divisor = BigInt(denominator)
  return held(from.whole + Number(big / divisor), Number(big % divisor))
}

/** The nearest whole number, halves up. */
export function roundExact(value: Exact, denominator: number): number {
  return Math.min(Number.MAX_SAFE_INTEGER, value.whole + (value.rest * 2 >= denominator ? 1 : 0))
}

function held(whole: number, rest: number): Exact {
  return whole > Number.MAX_SAFE_INTEGER ? { whole: Number.MAX_SAFE_INTEGER, rest: 0 } : { whole, rest }
}
