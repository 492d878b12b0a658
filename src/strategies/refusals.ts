import type { NoteId } from '../domain/ids.ts'
import type { Micros } from '../domain/units.ts'

/**
 * Which lamps were refused to which notes in one moment. A note asks for a lamp once in a moment: where two parts share a lamp that neither may
 * light, or a chord finds a supply used up, each would else send the other round for ever.
 */
export interface Refusals {
  readonly at: Micros
  readonly asked: readonly { readonly note: NoteId; readonly lamp: number }[]
}

export const NO_REFUSALS: Refusals = { at: 0, asked: [] }

export function withRefusal(refusals: Refusals, note: NoteId, lamp: number, now: Micros): Refusals {
  const before = refusals.at === now ? refusals.asked : []
  return { at: now, asked: [...before, { note, lamp }] }
}

export function wasRefused(refusals: Refusals, note: NoteId, lamp: number, now: Micros): boolean {
  return refusals.at === now && refusals.asked.some((one) => one.note === note && one.lamp === lamp)
}
