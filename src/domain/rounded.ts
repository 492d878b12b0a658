/** `value` rounded to `places` decimals, never -0. RangeError for what JSON cannot hold. */
export function rounded(value: number, places: number, what: string): number {
  if (!Number.isFinite(value)) throw new RangeError(`${what} must be a finite number, got ${value}`)
  return Number(value.toFixed(places)) + 0
}
