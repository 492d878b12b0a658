import type { LampId, LampIndex } from '../../domain/ids.ts'
import type { LampChange, LampState } from '../../domain/lamp-state.ts'
import { DARK } from '../../domain/lamp-state.ts'
import { rounded } from '../../domain/rounded.ts'
import type { Micros, Seconds } from '../../domain/units.ts'
import { MICROS_PER_SECOND } from '../../domain/units.ts'
import { createFieldFlashes } from './field-flashes.ts'
import { OF_CONCERN, UNDER_STEADY } from './flash-band.ts'
import { createFlashStarts } from './flash-starts.ts'
import { createFlashingTime } from './flashing-time.ts'
import type { RateTime } from './rate-times.ts'
import { createRateTimes } from './rate-times.ts'
import { createSeenEdges } from './seen-edges.ts'
import { createSlidingCount } from './sliding-count.ts'

/** What one lamp did. */
export interface LampFlashFigure {
  /** The most flashes in any one second. */
  readonly perSecondMax: number
  /** Time flashing at 3 to 30 Hz, and at under 60 Hz; see `createFlashingTime`. */
  readonly bandSeconds: Seconds
  readonly under60Seconds: Seconds
  /** Time lit, whatever its rate; its off parts belong to it. */
  readonly litSeconds: Seconds
  /** What it was lit at, to a twelfth of an octave, most time first, at most 24. */
  readonly rates: readonly RateTime[]
}

export interface FlashFigure {
  /** The most flashes in any one second, of one lamp or of the field, whichever is more. */
  readonly perSecondMax: number
  /** Time with a lamp flashing at 3 to 30 Hz. */
  readonly bandSeconds: Seconds
  readonly fieldPerSecondMax: number
  /** Time with a lamp flashing at under 60 Hz. */
  readonly under60Seconds: Seconds
  /** The most lamps lit at once, as a share of all: a stand-in for area, which is not known (ITU-R BT.1702 speaks of a quarter of the view, second-hand). */
  readonly litShareMax: number
  /** The largest share of all lamps that rose and fell within one flash of the field. */
  readonly flashShareMax: number
  readonly lamps: Readonly<Record<LampId, LampFlashFigure>>
}

/** How it goes at a moment, of all lamps together. */
export interface FlashNow extends FieldFlashNow {
  /** Lamps that flashed at all, the one with the most in any one second first. */
  readonly lamps: readonly LampFlashNow[]
}

/** How it goes with one lamp. */
export interface LampFlashNow {
  readonly lamp: LampId
  readonly lastSecond: number
  readonly perSecondMax: number
  readonly bandSeconds: Seconds
  readonly under60Seconds: Seconds
}

export interface FieldFlashNow {
  /** Flashes of the field, or of the lamp that has the most, in the second that ends there. */
  readonly lastSecond: number
  readonly perSecondMax: number
  readonly bandSeconds: Seconds
  readonly under60Seconds: Seconds
  readonly litShare: number
  readonly litShareMax: number
}

export interface FlashFigures {
  /** Moments in order of time, none before one that was asked for. RangeError otherwise, and for a lamp that is not there. */
  frame(at: Micros, changes: readonly LampChange[]): void
  /** Up to that moment, of which more may come. */
  now(at: Micros): FlashNow
  /** Up to that moment and with it; it may go on after it. */
  finish(endAt: Micros): FlashFigure
  /** Nothing has been counted so far; lamps go on as they are. */
  renew(at: Micros): void
}

const RATES = 24

/**
 * Flashes an eye could see, of each lamp and of the whole field. A flash is a pair of opposing changes of light (WCAG 2.2, success criterion 2.3.1, which
 * allows three in any one second; ITU-R BT.1702 has the same limit, cited second-hand). Here: light that comes on and
 * goes out again, counted at the microsecond in which it goes out; "one second" is any half-open second.
 * - One lamp: see `createSeenEdges`.
 * - The field: see `createFieldFlashes`.
 * A lamp that glows between notes is lit, steady light: what it goes on to is no onset.
 * Brightness, area, colour and distance are not known and not weighed: this is a count, no judgement.
 * Memory is that of one second and of each lamp's rates; the cost is per change and per pulse below 60 Hz.
 */
export function createFlashFigures(ids: readonly LampId[]): FlashFigures {
  const lamps = ids.map(() => ({
    state: DARK as LampState,
    flashes: createSlidingCount(MICROS_PER_SECOND),
    rates: createRateTimes(),
  }))
  const starts = createFlashStarts(ids.length)
  const edges = createSeenEdges(ids.length)
  const field = createFieldFlashes(ids.length)
  const concern = createFlashingTime(ids.length, OF_CONCERN)
  const seen = createFlashingTime(ids.length, UNDER_STEADY)
  let lit = 0
  let litMax = 0
  let now: Micros = 0
  let drained: Micros = 0

  /** Only what lasts counts: no eye sees the states passed through within one moment. */
  function pass(at: Micros): void {
    if (!(at >= now)) throw new RangeError(`a moment at ${at} us comes after one at ${now} us`)
    if (at > now) litMax = Math.max(litMax, lit)
    now = at
  }

  function drain(to: Micros): void {
    edges.drain(to, ({ at, lamp, isRise }) => {
      if (!isRise) lamps[lamp]!.flashes.add(at)
      field.add(at, lamp, isRise)
    })
    field.settle(to)
    drained = to
  }

  function change(at: Micros, index: LampIndex, state: LampState): void {
    const lamp = lamps[index]
    if (lamp === undefined) throw new RangeError(`there is no lamp ${index} in the rig`)
    const before = lamp.state
    const begins = starts.isStart(index, state)
    const isOnset = before.on ? begins && before.glow !== true : state.on
    lamp.state = state
    lit += Number(state.on) - Number(before.on)
    lamp.rates.change(at, state.on ? state.realHz : undefined)
    edges.change(at, index, state, begins)
    concern.change(at, index, state, isOnset)
    seen.change(at, index, state, isOnset)
  }

  const seconds = (time: Micros, what: string): Seconds => rounded(time / MICROS_PER_SECOND, 6, what)
  const share = (count: number, what: string): number => rounded(count / Math.max(1, ids.length), 4, what)
  const most = (): number => lamps.reduce((max, { flashes }) => Math.max(max, flashes.max), field.max)
  const lampNow =
    (at: Micros) =>
    (lamp: LampId, index: LampIndex): LampFlashNow[] => {
      const { flashes } = lamps[index]!
      const under60Seconds = seconds(seen.ofLamp(index, at), 'under60Seconds')
      if (flashes.max === 0 && under60Seconds === 0) return []
      const bandSeconds = seconds(concern.ofLamp(index, at), 'bandSeconds')
      return [{ lamp, lastSecond: flashes.upTo(at), perSecondMax: flashes.max, bandSeconds, under60Seconds }]
    }
  const times = (at: Micros) => ({
    bandSeconds: seconds(concern.total(at), 'bandSeconds'),
    under60Seconds: seconds(seen.total(at), 'under60Seconds'),
  })

  return {
    frame(at, changes) {
      pass(at)
      if (at >= drained + MICROS_PER_SECOND) drain(at)
      for (const { index, state } of changes) change(at, index, state)
    },
    now(at) {
      pass(at)
      drain(at)
      const lastSecond = lamps.reduce(
        (max, { flashes }) => Math.max(max, flashes.upTo(at)),
        field.lastSecond(at),
      )
      const litShares = { litShare: share(lit, 'litShare'), litShareMax: share(litMax, 'litShareMax') }
      return {
        lastSecond,
        perSecondMax: most(),
        ...times(at),
        ...litShares,
        lamps: ids.flatMap(lampNow(at)).sort(worse),
      }
    },
    finish(endAt) {
      pass(endAt)
      drain(endAt)
      field.settle(Infinity)
      const { bandSeconds, under60Seconds } = times(endAt)
      const figures = ids.map((id, index): [LampId, LampFlashFigure] => {
        const { flashes, rates } = lamps[index]!
        const figure = {
          perSecondMax: flashes.max,
          bandSeconds: seconds(concern.ofLamp(index, endAt), 'bandSeconds'),
          under60Seconds: seconds(seen.ofLamp(index, endAt), 'under60Seconds'),
          litSeconds: rates.litSeconds(endAt),
          rates: rates.rates(endAt, RATES),
        }
        return [id, figure]
      })
      return {
        perSecondMax: most(),
        bandSeconds,
        fieldPerSecondMax: field.max,
        under60Seconds,
        litShareMax: share(litMax, 'litShareMax'),
        flashShareMax: share(field.lampsMax, 'flashShareMax'),
        lamps: Object.fromEntries(figures),
      }
    },
    renew(at) {
      pass(at)
      drain(at)
      field.renew()
      concern.renew(at)
      seen.renew(at)
      litMax = 0
      for (const { flashes, rates } of lamps) {
        flashes.clear()
        rates.renew(at)
      }
    },
  }
}

function worse(a: LampFlashNow, b: LampFlashNow): number {
  return (
    b.perSecondMax - a.perSecondMax || b.bandSeconds - a.bandSeconds || b.under60Seconds - a.under60Seconds
  )
}
