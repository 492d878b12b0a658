import type { Part, Song } from '../../domain/song.ts'
import type { Key } from '../../domain/units.ts'
import { patternsPlayed } from '../../strategies/steps-ready.ts'
import { strategyReach } from './strategy-reach.ts'

/** Whether a part would do something for a key as it is played: light a lamp, or start or move its pattern, which any key does where no pad is there for it. */
export function takesKey(song: Song, part: Part, key: Key): boolean {
  const [low, high] = part.notes
  if (key < low || key > high) return false
  if (part.strategy.kind === 'steps') {
    return patternsPlayed(song, part.strategy).some(
      ({ pads }) => pads.some((pad) => pad.key === key) || !pads.some((pad) => pad.do === 'advance'),
    )
  }
  return strategyReach(part, song).some(
    (reach) => reach.key === undefined || reach.key === key + part.transpose,
  )
}
