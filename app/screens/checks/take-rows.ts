import type { FromHost, TakeFiguresWord } from '../../../src/contract/from-host.ts'
import type { Show } from '../../../src/domain/show.ts'
import { many, percent } from '../wording/figures.ts'
import type { Finding } from './sift-findings.ts'
import { GRAVITIES } from './sift-findings.ts'

export type TakeChecks = Extract<FromHost, { type: 'take-checks' }>

/** One take, or a song without any, in the words of a row. */
export interface TakeRow {
  readonly title: string
  /** Empty: the song has none. */
  readonly take: string
  /** By the columns of `TAKE_COLUMNS`; a text where nothing was counted. */
  readonly cells: readonly string[] | string
}

export const TAKE_COLUMNS: readonly string[] = [
  'Length, s',
  'Flashes in a second: field',
  'One lamp',
  '3 to 30 Hz, s',
  'Under 60 Hz, s',
  'Lit at once',
  'In one flash',
  'Notes dark',
  'Most cents off',
  'Most amps, of limit',
]

/** Songs worst first, as the host has them; a row a take. */
export function takeRows({ songs }: TakeChecks, show: Show): TakeRow[] {
  return songs.flatMap(({ song, takes }): TakeRow[] => {
    const title = show.songs.find(({ id }) => id === song)?.title ?? song
    if (takes.length === 0) return [{ title, take: '', cells: 'no take: nothing counted' }]
    return takes.map(({ take, figures }) => ({
      title,
      take,
      cells: figures ? cellsOf(figures) : 'could not be counted',
    }))
  })
}

function cellsOf(figures: TakeFiguresWord): string[] {
  const { fieldPerSecondMax, lampPerSecondMax, lamp, supplies, notesIn, unlit } = figures
  return [
    figures.seconds.toFixed(1),
    String(fieldPerSecondMax),
    lamp === null ? '0' : `${lampPerSecondMax}, ${lamp}`,
    figures.bandSeconds.toFixed(1),
    figures.under60Seconds.toFixed(1),
    percent(figures.litShareMax),
    percent(figures.flashShareMax),
    `${unlit} of ${notesIn}`,
    figures.worstCents.toFixed(2),
    supplies
      .map(({ supply, peakAmps, limitAmps }) => `${supply} ${short(peakAmps)} of ${short(limitAmps)}`)
      .join('; '),
  ]
}

function short(value: number): string {
  return String(Number(value.toPrecision(3)))
}

const MOST_PLACES = 3

/** What the takes say, with what the show says by itself: gravest first, and of equals what was counted first, worst song first; songs without a take are named together. */
export function withTakes(findings: readonly Finding[], takes: TakeChecks | undefined): Finding[] {
  const songs = takes?.songs ?? []
  const counted = songs.filter((song) => song.takes.length > 0).flatMap((song) => song.findings)
  const others = songs.filter((song) => song.takes.length === 0).flatMap((song) => song.findings)
  const all = [...counted, ...merged(others), ...findings]
  return GRAVITIES.flatMap((gravity) => all.filter((one) => one.gravity === gravity))
}

function merged(findings: readonly Finding[]): Finding[] {
  const same = new Map<string, Finding[]>()
  for (const one of findings) {
    const key = `${one.gravity} ${one.message}`
    same.set(key, [...(same.get(key) ?? []), one])
  }
  return [...same.values()].flatMap((group): Finding[] => {
    const [first] = group
    const more = group.length - MOST_PLACES
    const where = group.slice(0, MOST_PLACES).map((one) => one.where)
    return first ? [{ ...first, where: where.join('; ') + (more > 0 ? ` and ${more} more` : '') }] : []
  })
}

/** How it stands with counting, for the revision that is open. */
export function countingWords(
  revision: number,
  takes: TakeChecks | undefined,
  counting: { readonly revision: number; readonly done: number; readonly of: number } | undefined,
): string {
  const before =
    takes && takes.revision !== revision
      ? ` What stands here was counted for revision ${takes.revision}.`
      : ''
  if (counting && counting.revision === revision)
    return `Counting takes: ${counting.done} of ${counting.of} done.${before}`
  if (!takes || takes.revision !== revision) return `Counting takes...${before}`
  const count = takes.songs.reduce((sum, song) => sum + song.takes.length, 0)
  if (count === 0)
    return 'No song names a take, so nothing that is played was counted. A take is a recording of a song, as a Standard MIDI File beside the show.'
  return `Counted ${many(count, 'take')} for revision ${revision} of the show.`
}
