import type { Pulse } from './part-motion.ts'
import { parseRatio } from './ratio.ts'
import type { Bpm, Hz } from './units.ts'

/** Flash rates of most concern for photosensitive people, both ends included (epilepsy charities, second-hand). */
export const CONCERN_BAND: readonly [Hz, Hz] = [3, 30]

/** Flashes a second of a pulse in a song of that tempo. */
export function flashesPerSecond(pulse: Pulse, tempo: Bpm): Hz {
  if ('bpm' in pulse) return pulse.bpm / 60
  const [flashes, beats] = parseRatio(pulse.ratio) ?? [1, 1]
  return (tempo * flashes) / beats / 60
}

export function isOfConcern(hz: Hz): boolean {
  return hz >= CONCERN_BAND[0] && hz <= CONCERN_BAND[1]
}
