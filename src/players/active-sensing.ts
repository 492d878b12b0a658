import type { Micros } from '../domain/units.ts'

/**
 * Active sensing (MIDI 1.0 Detailed Specification): once a sender has sent FE, it sends something at least every 300 ms, or its cable is out.
 * The specification's tolerance of a tenth is on top (from memory).
 */
export const SENSING_LIMIT: Micros = 330_000

/** Deadline for the next message, null while the sender has never sent FE. */
export type SensingDeadline = Micros | null

export function nextDeadline(deadline: SensingDeadline, type: string, now: Micros): SensingDeadline {
  return deadline !== null || type === 'active-sensing' ? now + SENSING_LIMIT : null
}
