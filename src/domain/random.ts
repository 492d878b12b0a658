/**
 * A seeded generator whose whole state is one number, so that it can be kept in a stage's state.
 * The mixing is the 32-bit finaliser of MurmurHash3 (public domain) over a Weyl sequence.
 */
export type Seed = number

/** A number in [0, 1) and the seed for the next one. */
export function nextRandom(seed: Seed): { readonly value: number; readonly seed: Seed } {
  const next = (seed + 0x9e3779b9) >>> 0
  let h = next
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  h = (h ^ (h >>> 16)) >>> 0
  return { value: h / 0x1_0000_0000, seed: next }
}
