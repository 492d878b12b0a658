import type { Pulse } from '../domain/part-motion.ts'
import { parseRatio } from '../domain/ratio.ts'
import type { Beats, Bpm, Duty, Hz, Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import type { BeatClock } from '../time/beat-clock.ts'
import { nextMultiple, timeOfBeat } from '../time/beat-clock.ts'

/** Up to here a lamp box begins a flash with the frame that says so; faster, it goes through with the one it is in. */
export const LOCKED_BELOW: Hz = 30
/** Slower than this a lamp box begins a flash anew with whatever it is told, and cuts short the one it is in (PROTOCOL.md: 16 MHz / 8 / 65536). */
export const BEGUN_ANEW_BELOW: Hz = 30.52
/** Struck so short after a flash was due, a lamp flashes at once. */
const LATE: Micros = 60_000

/** What flashes are counted on: the song's beats, or a clock of the pulse's own. */
export interface FlashGrid {
  readonly clock: BeatClock
  /** From one flash to the next, in beats of that clock. */
  readonly every: Beats
}

/** Flashes a second. `tempo` in beats a minute. */
export function pulseHz(pulse: Pulse, tempo: Bpm): Hz {
  if ('bpm' in pulse) return pulse.bpm / 60
  const [flashes, beats] = parseRatio(pulse.ratio) ?? [1, 1]
  return (tempo * flashes) / beats / 60
}

/** From pulse to pitch by equal ratios. `amount`: 0 to 1. */
export function betweenPulseAndPitch(pulse: Hz, pitch: Hz, amount: number): Hz {
  if (amount <= 0) return pulse
  return amount >= 1 ? pitch : pulse * (pitch / pulse) ** amount
}

/** `since`: when the song's first lamp lit, which flashes of a tempo of their own are counted from. */
export function flashGrid(pulse: Pulse, song: BeatClock, since: Micros): FlashGrid {
  if ('bpm' in pulse) return { clock: { at: since, beats: 0, tempo: pulse.bpm }, every: 1 }
  const [flashes, beats] = parseRatio(pulse.ratio) ?? [1, 1]
  return { clock: song, every: beats / flashes }
}

export interface Flash {
  /** Counted from beat 0. */
  readonly number: number
  /** Infinity: nobody knows yet, or beats stand still. */
  readonly at: Micros
}

/** The first flash that is due at `now` or later. */
export function nextFlash({ clock, every }: FlashGrid, now: Micros): Flash {
  const beat = nextMultiple(clock, every, now)
  return { number: Math.round(beat / every), at: timeOfBeat(clock, beat) }
}

/** The flash that a lamp struck now is to have at once: the one that is due, or that was so short a time ago that it would still be lit; undefined: it waits for the next. */
export function flashAtOnce(grid: FlashGrid, duty: Duty, now: Micros): number | undefined {
  const next = nextFlash(grid, now)
  if (next.at === now) return next.number
  const span = (grid.every * 60 * MICROS_PER_SECOND) / grid.clock.tempo
  const last = nextFlash(grid, now - Math.round(Math.min(LATE, span * duty)))
  return last.at <= now ? last.number : undefined
}
