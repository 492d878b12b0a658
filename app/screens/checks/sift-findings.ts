import type { FromHost } from '../../../src/contract/from-host.ts'
import type { Show } from '../../../src/domain/show.ts'

export type Finding = Extract<FromHost, { type: 'checks' }>['findings'][number]
export type Gravity = Finding['gravity']

/** Gravest first. */
export const GRAVITIES: readonly Gravity[] = ['fault', 'warning', 'note']

/** Every song; or the rest, which belongs to no song. */
export const EVERY_SONG = ''
export const NO_SONG = '*'

/** It goes for every show, so no sieve holds it back. */
export function isCaution({ where, path }: Finding): boolean {
  return path === undefined && where === 'every show'
}

export function countOf(findings: readonly Finding[], gravity: Gravity): number {
  return findings.filter((one) => one.gravity === gravity).length
}

/** Without the caution; `song`: a song's id, `EVERY_SONG` or `NO_SONG`. */
export function sifted(
  findings: readonly Finding[],
  { gravities, song }: { readonly gravities: ReadonlySet<Gravity>; readonly song: string },
  show: Show,
): Finding[] {
  return findings.filter(
    (finding) => !isCaution(finding) && gravities.has(finding.gravity) && isAbout(finding, song, show),
  )
}

function isAbout(finding: Finding, song: string, show: Show): boolean {
  if (song === EVERY_SONG) return true
  const songs = songsOf(finding, show)
  if (song === NO_SONG) return songs.size === 0
  // What is said of more places than are named may be said of this song.
  return songs.has(song) || (songs.size > 0 && / and \d+ more$/.test(finding.where))
}

/** A finding may be about several songs: its path leads to the first, its words name up to three. */
function songsOf({ where, path }: Finding, show: Show): Set<string> {
  const [root, index] = path ?? []
  const first = root === 'songs' && typeof index === 'number' ? show.songs[index]?.id : undefined
  const named = [...where.matchAll(/(?:^|; )song ([^\s,;]+)/g)].flatMap(([, id]) =>
    id === undefined ? [] : [id],
  )
  return new Set([...(first === undefined ? [] : [first]), ...named])
}
