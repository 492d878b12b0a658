import type { Part } from '../../domain/song.ts'
import type { Key } from '../../domain/units.ts'
import { strategyReach } from './strategy-reach.ts'

/** Whether a part would light a lamp for a key as it is played. */
export function takesKey(part: Part, key: Key): boolean {
  const [low, high] = part.notes
  if (key < low || key > high) return false
  return strategyReach(part).some((reach) => reach.key === undefined || reach.key === key + part.transpose)
}
