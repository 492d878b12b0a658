import type { Cents } from '../domain/units.ts'

/** Lamp `index` of so many that are spread over `cents`: from half of it below the pitch to half above. One lamp alone is on the pitch. */
export function spreadAt(cents: Cents, index: number, lamps: number): Cents {
  return lamps < 2 ? 0 : cents * (index / (lamps - 1) - 0.5)
}
