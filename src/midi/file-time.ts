import type { Micros } from '../domain/units.ts'
import { addScaled, roundExact, type Exact } from './exact-scale.ts'
import type { Division } from './file.ts'

/** 120 beats a minute until a file says otherwise. Standard MIDI Files 1.0, "Set Tempo". */
export const DEFAULT_MICROS_PER_BEAT = 500_000

/** From `tick` on, a tick lasts `numerator` / the map's denominator microseconds. */
interface Segment {
  readonly tick: number
  readonly start: Exact
  readonly numerator: number
}

/** Turns ticks into microseconds. Fractions are kept whole between tempo changes, so no rounding adds up. */
export interface TickClock {
  readonly denominator: number
  readonly segments: readonly Segment[]
}

/**
 * The clock of a file or pattern. `tempos` in any order (the later of two at one tick counts); with a division in
 * frames they change nothing, Standard MIDI Files 1.0, "Division". `startsAt`: when tick 0 is.
 */
export function tickClock(
  division: Division,
  tempos: readonly { readonly tick: number; readonly microsPerBeat: Micros }[],
  startsAt: Micros = 0,
): TickClock {
  const start = { whole: startsAt, rest: 0 }
  if (division.kind === 'frames') {
    const { framesPerSecond, ticksPerFrame } = division
    // A drop-frame frame lasts 1001/30000 s, that is 100100/3 microseconds.
    return framesPerSecond === 29
      ? { denominator: 3 * ticksPerFrame, segments: [{ tick: 0, start, numerator: 100_100 }] }
      : {
          denominator: framesPerSecond * ticksPerFrame,
          segments: [{ tick: 0, start, numerator: 1_000_000 }],
        }
  }
  const denominator = division.ticksPerBeat
  const segments: Segment[] = []
  let last: Segment = { tick: 0, start, numerator: DEFAULT_MICROS_PER_BEAT }
  for (const tempo of tempos.toSorted((a, b) => a.tick - b.tick)) {
    if (tempo.tick > last.tick) segments.push(last)
    const length = tempo.tick - last.tick
    last = {
      tick: tempo.tick,
      start: addScaled(last.start, length, last.numerator, denominator),
      numerator: tempo.microsPerBeat,
    }
  }
  segments.push(last)
  return { denominator, segments }
}

/** When `tick` is, to the nearest microsecond. */
export function microsAtTick(clock: TickClock, tick: number): Micros {
  let low = 0
  let high = clock.segments.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((clock.segments[middle] as Segment).tick <= tick) low = middle
    else high = middle - 1
  }
  const segment = clock.segments[low] as Segment
  const exact = addScaled(segment.start, tick - segment.tick, segment.numerator, clock.denominator)
  return roundExact(exact, clock.denominator)
}
