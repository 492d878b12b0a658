/** Shares of measured times, in milliseconds. */
export interface MeasuredSpread {
  readonly count: number
  readonly p50: number
  readonly p95: number
  readonly p99: number
  readonly max: number
}

export function spreadOf(times: readonly number[]): MeasuredSpread {
  const sorted = [...times].sort((a, b) => a - b)
  const at = (share: number): number =>
    round(sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0)
  return { count: sorted.length, p50: at(0.5), p95: at(0.95), p99: at(0.99), max: round(sorted.at(-1) ?? 0) }
}

function round(ms: number): number {
  return Math.round(ms * 1000) / 1000
}
