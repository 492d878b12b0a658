import type { Show } from '../../../src/domain/show.ts'

const NAMES: readonly (readonly [keyof Show, string])[] = [
  ['title', 'the title'],
  ['rig', 'the rig'],
  ['players', 'the players'],
  ['tunings', 'the tunings'],
  ['setList', 'the set list'],
  ['thru', 'what goes through'],
  ['guards', 'the guards'],
  ['switching', 'how songs are changed'],
]
/** More are counted. */
const MOST = 5

/** Where two shows differ, for a person: "the rig, the song Tide table"; empty: nowhere. */
export function differenceWords(ours: Show, theirs: Show): string {
  const parts = NAMES.filter(([field]) => !isSame(ours[field], theirs[field])).map(([, name]) => name)
  const before = new Map(ours.songs.map((song) => [song.id, song]))
  const after = new Set(theirs.songs.map(({ id }) => id))
  for (const song of theirs.songs) {
    const mine = before.get(song.id)
    if (!mine) parts.push(`a new song, ${song.title}`)
    else if (!isSame(mine, song)) parts.push(`the song ${song.title}`)
  }
  for (const { id, title } of ours.songs) if (!after.has(id)) parts.push(`the song ${title}, which is gone`)
  const rest = parts.length - MOST
  return parts
    .slice(0, MOST)
    .concat(rest > 0 ? [`${rest} more`] : [])
    .join(', ')
}

function isSame(one: unknown, other: unknown): boolean {
  return JSON.stringify(one) === JSON.stringify(other)
}
