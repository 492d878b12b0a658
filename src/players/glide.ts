import type { Cents, Micros } from '../domain/units.ts'

/** A bend on its way. */
export interface Glide {
  /** Where it was told to go last. */
  readonly target: Cents
  /** Where it was last said to be. */
  readonly said: Cents
  /** Where it stood before the first of `steps`. */
  readonly from: Cents
  /** Where it was told to go within the span, oldest first. Empty: it is there. */
  readonly steps: readonly { readonly at: Micros; readonly cents: Cents }[]
  /** When it is to be said next; null: it is there. */
  readonly dueAt: Micros | null
}

/** How often a bend on its way is said: about what a MIDI cable carries (three bytes take 0.96 ms at 31,250 baud, MIDI 1.0 Detailed Specification). */
const TICK: Micros = 1_000

export const STRAIGHT: Glide = { target: 0, said: 0, from: 0, steps: [], dueAt: null }

/** There at once. */
export function jumpTo(cents: Cents): Glide {
  return { target: cents, said: cents, from: cents, steps: [], dueAt: null }
}

/**
 * On its way to `cents` from `at` on, which may lie a little before `now`. Told is the mean of the span that ends now,
 *
 *     y(t) = 1/W x integral of x(s) ds, s from t - W to t
 *
 * where x is the bend as it was sent and W the span. A mean lies between the least and the most of what it is of, so it never overshoots; W after the last move it
 * is exactly there, so it is never more than W late. On a bend that moves evenly it is W/2 late.
 */
export function glideTo(glide: Glide, cents: Cents, at: Micros, now: Micros, span: Micros): Glide {
  if (now - at >= span) return jumpTo(cents)
  const kept = glide.steps.at(-1)?.at === at ? glide.steps.slice(0, -1) : glide.steps
  const steps = [...kept, { at, cents }]
  const from = glide.steps.length === 0 ? glide.target : glide.from
  return { ...glide, target: cents, from, steps, dueAt: glide.dueAt ?? Math.min(now + TICK, at + span) }
}

/** The bend as it is to be said now; what lies before the span is forgotten. */
export function stepGlide(glide: Glide, now: Micros, span: Micros): Glide {
  const last = glide.steps.at(-1)
  if (glide.dueAt === null || glide.dueAt > now) return glide
  if (!last || last.at + span <= now) return jumpTo(glide.target)
  const begin = now - span
  let { from } = glide
  let sum = 0
  let since = begin
  let level = from
  for (const { at, cents } of glide.steps) {
    if (at <= begin) from = cents
    else {
      sum += level * (at - since)
      since = at
    }
    level = cents
  }
  sum += level * (now - since)
  const steps = glide.steps.filter(({ at }) => at > begin)
  return { ...glide, said: sum / span, from, steps, dueAt: Math.min(now + TICK, last.at + span) }
}
