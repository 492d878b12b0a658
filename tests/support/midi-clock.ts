import { nextRandom } from '../../src/domain/random.ts'
import type { Micros } from '../../src/domain/units.ts'

/** MIDI 1.0 Detailed Specification, System Real Time and System Common Messages. */
export const CLOCK = 0xf8
export const START = 0xfa
export const CONTINUE = 0xfb
export const STOP = 0xfc

/** Song Position Pointer: sixteenths in fourteen bits, the low seven first. */
export function songPosition(sixteenths: number): number[] {
  return [0xf2, sixteenths & 0x7f, sixteenths >> 7]
}

export interface ClockFixture {
  /** The true tempo as clock number `clock` is sent. */
  readonly bpm: number | ((clock: number) => number)
  readonly count: number
  readonly from?: Micros
  /** Each comes up to so much later than it was sent, evenly spread. */
  readonly jitter?: Micros
  /** What was sent comes only at multiples of this, as from a machine that looks once a while: several at one time. */
  readonly polled?: Micros
  readonly seed?: number
}

/** When the clocks of a machine come, in order and from its first, by the definition: 24 a quarter note. */
export function clockTimes({ bpm, count, from = 0, jitter = 0, polled, seed = 1 }: ClockFixture): Micros[] {
  let sent = from
  let last = from
  let luck = seed
  return Array.from({ length: count }, (_, clock) => {
    if (clock > 0) sent += 60_000_000 / (24 * (typeof bpm === 'number' ? bpm : bpm(clock)))
    const drawn = nextRandom(luck)
    luck = drawn.seed
    const late = sent + drawn.value * jitter
    last = Math.max(last, Math.round(polled === undefined ? late : Math.ceil(late / polled) * polled))
    return last
  })
}
