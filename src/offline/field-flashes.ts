import type { Micros } from '../domain/units.ts'
import { MICROS_PER_SECOND } from '../domain/units.ts'
import { createSlidingCount } from './sliding-count.ts'

export interface FieldFlashes {
  /** One lamp's light rises or falls, in order of time. */
  add(at: Micros, rise: boolean): void
  /** The most flashes in any one second. */
  finish(): number
}

/**
 * All lamps taken as one light. Falls of several lamps in one microsecond are one fall, rises one rise; a moment with
 * both is a fall and then a rise, so light that jumps from lamp to lamp counts at every jump. A flash is a fall that
 * comes after a rise: lamps lit one after another and then put out one after another make one. Counting both ways
 * of a jump, and giving every lamp full weight, errs on the side of too many.
 */
export function createFieldFlashes(): FieldFlashes {
  const flashes = createSlidingCount(MICROS_PER_SECOND)
  let up = false
  let moment: Micros = 0
  let fell = false
  let rose = false

  function close(): void {
    if (fell) {
      if (up) flashes.add(moment)
      up = false
    }
    if (rose) up = true
    fell = false
    rose = false
  }

  return {
    add(at, rise) {
      if (at !== moment) close()
      moment = at
      if (rise) rose = true
      else fell = true
    },
    finish() {
      close()
      return flashes.max
    },
  }
}
