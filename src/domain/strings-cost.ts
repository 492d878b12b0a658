import type { StringsPlayer } from './player.ts'
import { stringsMode } from './player.ts'

/** What conditioning a string instrument costs, in milliseconds after its messages came. */
export interface StringsCost {
  /** Every note begins so much later, but for slides that go on. */
  readonly onset: number
  /** The end of a note that nothing follows, at worst. */
  readonly end: number
  /** A bend, at worst, and on one that moves evenly. */
  readonly bend: number
  readonly evenBend: number
}

/** Ends, and leaps of a bend, wait so long for what may belong to them: messages of one burst, 0.96 ms each (MIDI 1.0 Detailed Specification: 31,250 baud). */
export const BURST_MS = 2

export function stringsCost(player: StringsPlayer): StringsCost {
  const { minNoteMs, octaveGuardMs, bendSmoothMs } = player
  const leap = stringsMode(player) === 'string-per-channel' ? BURST_MS : 0
  return {
    onset: minNoteMs,
    end: Math.max(BURST_MS, octaveGuardMs - minNoteMs),
    bend: Math.max(leap, bendSmoothMs),
    evenBend: bendSmoothMs / 2,
  }
}
