/**
 * Impulse response of a low-pass filter: a sinc under a Kaiser window, at time `u` (samples from its middle).
 * J. F. Kaiser's window and design formulas, as in any text on digital filters (from memory).
 * `cutoff`: middle of the slope, cycles a sample. Zero at and beyond `half` samples either side.
 */
export function kaiserSinc(u: number, half: number, cutoff: number, beta: number): number {
  const r = u / half
  if (Math.abs(r) >= 1) return 0
  const x = 2 * cutoff * u
  const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x)
  return (2 * cutoff * sinc * besselI0(beta * Math.sqrt(1 - r * r))) / besselI0(beta)
}

/** Modified Bessel function of the first kind, order 0, by its power series. */
function besselI0(x: number): number {
  const quarter = (x * x) / 4
  let term = 1
  let sum = 1
  for (let k = 1; term > sum * 1e-17; k++) {
    term *= quarter / (k * k)
    sum += term
  }
  return sum
}
