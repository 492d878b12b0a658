import { condensed } from '../check/condense.ts'
import type { CheckFinding } from '../check/finding.ts'
import { findingBlocks } from '../check/format-findings.ts'
import { figure } from '../check/listed.ts'
import type { Column } from '../tuning/text-table.ts'
import { textTable } from '../tuning/text-table.ts'
import type { CheckedSong, GigCheck } from './gig-check.ts'
import { flashiestLamp } from './lamp-figures.ts'
import type { TakeResult } from './take-result.ts'

const COLUMNS: readonly Column[] = [
  { head: 'song', isText: true },
  { head: 'take', isText: true },
  { head: 'seconds' },
  { head: 'field/s' },
  { head: 'lamp/s' },
  { head: '3-30 Hz s' },
  { head: '<60 Hz s' },
  { head: 'lit %' },
  { head: 'cents' },
  { head: 'most A', isText: true },
]

/** What was counted, as a person reads it in a terminal: a line a take, worst song first, then what was found, worst first; no line feed at the end. */
export function formatGig({ songs }: GigCheck): string {
  const withTakes = songs.filter(({ takes }) => takes.length > 0)
  const rows = withTakes.flatMap(({ song, takes }) => takes.map((take) => row(song.id, take)))
  const table =
    rows.length === 0
      ? []
      : [
          'Counted from takes, worst song first (field/s, lamp/s: the most flashes in one second):',
          ...textTable(COLUMNS, rows),
        ]
  return [...table, ...findingBlocks(gigFindings(songs))].join('\n')
}

/** What was found song by song, worst song first; songs without a take are named together at the end. */
export function gigFindings(songs: readonly CheckedSong[]): CheckFinding[] {
  const counted = songs.filter(({ takes }) => takes.length > 0).flatMap(({ findings }) => findings)
  const rest = songs.filter(({ takes }) => takes.length === 0).flatMap(({ findings }) => findings)
  return [...counted, ...condensed(rest)]
}

function row(song: string, take: TakeResult): string[] {
  if (!take.ok) return [song, take.take, 'could not be counted']
  const { seconds, flash, supplies, worstCents } = take.report
  const lamp = flashiestLamp(flash)
  return [
    song,
    take.take,
    figure(seconds, 3),
    String(flash.fieldPerSecondMax),
    lamp ? `${lamp.perSecondMax} ${lamp.id}` : '0',
    figure(flash.bandSeconds, 3),
    figure(flash.under60Seconds, 3),
    figure(flash.litShareMax * 100, 3),
    figure(worstCents, 3),
    Object.entries(supplies)
      .map(([id, { peakAmps }]) => `${id} ${figure(peakAmps, 3)}`)
      .join(', '),
  ]
}
