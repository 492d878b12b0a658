import type { Show } from '../../../src/domain/show.ts'

type Way = readonly (string | number)[]
type MendRoom = 'rig' | 'songs' | 'sheet' | 'steps' | 'tuning'

/** Where a finding is mended: a room and what of it, and what stands on the link. */
export interface MendLink {
  readonly room: MendRoom
  readonly rest: readonly string[]
  readonly words: string
}

const WHERE: Readonly<Record<string, readonly [MendRoom, string]>> = {
  rig: ['rig', 'Mend it in the rig'],
  players: ['rig', 'Mend it in the rig'],
  thru: ['rig', 'Mend it in the rig'],
  tunings: ['tuning', 'Mend it in the tunings'],
  songs: ['sheet', 'Mend it on the song sheet'],
  setList: ['songs', 'Mend it on the set list'],
  switching: ['songs', 'Mend it among the songs'],
  guards: ['rig', 'Mend it in the rig'],
}

/** The room where what stands at `path` is changed; undefined: nowhere in particular. A song or part that is not there any more leads to its room. */
export function mendLink(path: Way | undefined, show: Show): MendLink | undefined {
  const [root, index, list, place] = path ?? []
  const found = typeof root === 'string' && Object.hasOwn(WHERE, root) ? WHERE[root] : undefined
  if (!found) return undefined
  const song = root === 'songs' && typeof index === 'number' ? show.songs[index] : undefined
  if (!song) return { room: found[0], rest: [], words: found[1] }
  const pattern = list === 'patterns' && typeof place === 'number' ? song.patterns[place] : undefined
  if (pattern)
    return { room: 'steps', rest: [song.id, pattern.id], words: `Mend it in ${song.title}, ${pattern.name}` }
  const part = list === 'parts' && typeof place === 'number' ? song.parts[place] : undefined
  if (!part) return { room: 'sheet', rest: [song.id], words: `Mend it in ${song.title}` }
  return { room: 'sheet', rest: [song.id, part.id], words: `Mend it in ${song.title}, ${part.id}` }
}
