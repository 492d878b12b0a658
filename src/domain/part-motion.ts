import type { Bpm, Cents, Hz } from './units.ts'

/** How a part's pitch comes from one note to the next: in a time, or at a rate. */
export type Glide = ({ readonly ms: number } | { readonly centsPerSecond: number }) & {
  /** `legato`: only where a voice goes on to another note without a strike. `always`: every note begins at the pitch of the part's last. */
  readonly when: 'legato' | 'always'
}

export interface Vibrato {
  /** Either way. */
  readonly cents: Cents
  readonly hz: Hz
  /** After the strike. */
  readonly delayMs: number
  /** Controller number that says how much of it, 0 to 127; absent: all of it. */
  readonly controller?: number | undefined
}

/**
 * A lamp that is driven as a pulse: `ratio` flashes to a beat ("3:2" is three to two beats), on the beat; or `bpm` flashes a minute. `controller`: 0 is the pulse,
 * 127 the note's pitch, between them it goes by equal ratios; absent: always the pulse.
 */
export type Pulse = ({ readonly ratio: string } | { readonly bpm: Bpm }) & {
  readonly controller?: number | undefined
}

/** Each lamp drifts by itself, slowly: `cents` either way at most, another place every `seconds`. */
export interface Wander {
  readonly cents: Cents
  readonly seconds: number
  readonly seed: number
}
