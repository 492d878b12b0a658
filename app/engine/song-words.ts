import type { EnterAt } from '../../src/domain/switching.ts'
import type { Place } from '../../src/graph/set-list.ts'
import type { DoneAct } from '../../src/players/controls.ts'

/** A song and where it stands in the set list, counted as people do. */
export function placeWords({ song, position }: Place): string {
  return position === null ? `song ${song}` : `song ${song}, place ${position + 1}`
}

/** When a song that was asked for begins. */
export const ENTER_AT: Readonly<Record<EnterAt, string>> = {
  now: 'at once',
  beat: 'at the next beat',
  bar: 'at the next bar',
  release: 'when the held notes are let go',
}

export function actWords(act: DoneAct): string {
  if (typeof act === 'object') {
    if ('tuning' in act) return `tuning ${act.tuning}`
    return 'song' in act ? `song ${act.song}` : `place ${act.place}`
  }
  if (act === 'tap') return 'tap of the tempo'
  return act === 'dark' ? 'all dark' : act === 'variant' ? 'next variant' : `${act} song`
}
