import type { LampIndex } from '../../domain/ids.ts'
import type { Micros } from '../../domain/units.ts'
import { MICROS_PER_SECOND } from '../../domain/units.ts'
import { createSlidingCount } from './sliding-count.ts'

export interface FieldFlashes {
  /** The most flashes in any one second. */
  readonly max: number
  /** The most lamps that rose and fell within one flash. */
  readonly lampsMax: number
  /** One lamp's light rises or falls, in order of time. */
  add(at: Micros, lamp: LampIndex, rise: boolean): void
  /** Nothing more comes before `at`. */
  settle(at: Micros): void
  /** Flashes in the second that ends at `at`, which is not before what was added. */
  lastSecond(at: Micros): number
  /** None so far; a rise of before still waits for its fall. */
  renew(): void
}

/**
 * All lamps taken as one light. Falls of several lamps in one microsecond are one fall, rises one rise; a moment with
 * both is a fall and then a rise, so light that jumps from lamp to lamp counts at every jump. A flash is a fall that
 * comes after a rise: lamps lit one after another and then put out one after another make one. Counting both ways
 * of a jump, and giving every lamp full weight, errs on the side of too many.
 */
export function createFieldFlashes(lamps: number): FieldFlashes {
  const flashes = createSlidingCount(MICROS_PER_SECOND)
  /** Per lamp: the flash that it rose in and has not fallen in, by number. */
  const rose = new Float64Array(lamps)
  let flash = 0
  let together = 0
  let lampsMax = 0
  let isUp = false
  let moment: Micros = 0
  const falls: LampIndex[] = []
  const rises: LampIndex[] = []

  function fall(): void {
    if (isUp) flashes.add(moment)
    isUp = false
    for (const lamp of falls) {
      if (rose[lamp] === flash) together++
      rose[lamp] = 0
    }
    lampsMax = Math.max(lampsMax, together)
    falls.length = 0
  }

  function rise(): void {
    if (!isUp) {
      flash++
      together = 0
    }
    isUp = true
    for (const lamp of rises) rose[lamp] = flash
    rises.length = 0
  }

  function close(): void {
    if (falls.length > 0) fall()
    if (rises.length > 0) rise()
  }

  return {
    get max() {
      return flashes.max
    },
    get lampsMax() {
      return lampsMax
    },
    add(at, lamp, isRise) {
      if (at !== moment) close()
      moment = at
      if (isRise) rises.push(lamp)
      else falls.push(lamp)
    },
    settle(at) {
      if (moment < at) close()
    },
    lastSecond: (at) => flashes.upTo(at),
    renew() {
      flashes.clear()
      together = 0
      lampsMax = 0
    },
  }
}
