import type { Glide, Vibrato, Wander } from '../domain/part-motion.ts'
import { centsBetween } from '../domain/pitch.ts'
import { nextRandom } from '../domain/random.ts'
import type { Cents, Hz, Micros } from '../domain/units.ts'
import { MICROS_PER_MS, MICROS_PER_SECOND } from '../domain/units.ts'

/** On the way from another pitch: so far from its own at `at`, evenly less in cents until `span` later. */
export interface Gliding {
  readonly cents: Cents
  readonly at: Micros
  readonly span: Micros
}

/** The way from `from` to `to`; null where there is none to go. */
export function glideFrom(glide: Glide, from: Hz, to: Hz, now: Micros): Gliding | null {
  const cents = centsBetween(from, to)
  const span =
    'ms' in glide
      ? Math.round(glide.ms * MICROS_PER_MS)
      : Math.round((Math.abs(cents) / glide.centsPerSecond) * MICROS_PER_SECOND)
  return span > 0 && cents !== 0 ? { cents, at: now, span } : null
}

export function isGliding(gliding: Gliding | null, now: Micros): gliding is Gliding {
  return gliding !== null && now < gliding.at + gliding.span
}

/** How far it still is from its own pitch. */
export function glideCents(gliding: Gliding | null, now: Micros): Cents {
  if (!isGliding(gliding, now)) return 0
  return gliding.cents * (1 - (now - gliding.at) / gliding.span)
}

/** A sine that begins at the pitch, `delayMs` after the strike. `amount`: 0 to 1. */
export function vibratoCents(vibrato: Vibrato, amount: number, struckAt: Micros, now: Micros): Cents {
  const since = (now - struckAt) / MICROS_PER_SECOND - vibrato.delayMs / 1000
  return since <= 0 ? 0 : vibrato.cents * amount * Math.sin(2 * Math.PI * vibrato.hz * since)
}

/**
 * Where a lamp has drifted to, `since` the song's first light: between -cents and +cents, another place every `seconds`, by a smooth way (3t^2 - 2t^3). From the pitch
 * itself at first. Each lamp has a way of its own; the same seed gives the same ways.
 */
export function wanderCents({ cents, seconds, seed }: Wander, lamp: number, since: Micros): Cents {
  const place = since / (seconds * MICROS_PER_SECOND)
  const step = Math.floor(place)
  const t = place - step
  const from = wanderPlace(seed, lamp, step)
  const to = wanderPlace(seed, lamp, step + 1)
  return cents * (from + (to - from) * t * t * (3 - 2 * t))
}

/** -1 to 1; 0 at first. */
function wanderPlace(seed: number, lamp: number, step: number): number {
  if (step <= 0) return 0
  const mixed = (seed ^ Math.imul(lamp + 1, 0x9e37_79b1) ^ Math.imul(step, 0x85eb_ca77)) >>> 0
  return 2 * nextRandom(nextRandom(mixed).seed).value - 1
}

/** There and back again in `span`, evenly: 0 to 1. */
export function sweepPlace(since: Micros, span: Micros): number {
  const place = (since % span) / span
  return place < 0.5 ? 2 * place : 2 - 2 * place
}
