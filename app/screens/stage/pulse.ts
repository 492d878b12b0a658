import type { LampStatus } from '../../../src/contract/from-engine.ts'
import type { Song } from '../../../src/domain/song.ts'
import type { Hz } from '../../../src/domain/units.ts'

/** From here on a lamp is heard as a pitch rather than counted as flashes. */
const HEARD_FROM: Hz = 30

/** Whether a lamp is lit as a pulse, one that the part's controller has not taken to its pitch. */
export function isPulse(song: Song | undefined, { on, part, hz }: LampStatus): boolean {
  return (
    on &&
    hz !== undefined &&
    hz < HEARD_FROM &&
    song?.parts.find(({ id }) => id === part)?.pulse !== undefined
  )
}

/** Flashes a minute where there is little room: `97.1`, `146`. */
export function perMinute(hz: Hz): string {
  const flashes = hz * 60
  return flashes.toFixed(flashes < 99.95 ? 1 : 0)
}
