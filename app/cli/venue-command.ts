import { dirname, resolve } from 'node:path'
import type { Show } from '../../src/domain/show.ts'
import { venuePage } from '../../src/offline/venue/venue-page.ts'
import { today } from '../engine/host/today.ts'
import type { TakeArguments } from './count-takes.ts'
import { countTakes } from './count-takes.ts'
import { readShow } from './read-show.ts'
import { refuseOverwriting, writePage } from './write-page.ts'

export interface VenueArguments extends TakeArguments {
  readonly out: string
  /** Year-month-day; left out: today. */
  readonly date?: string
}

/** `lanthorn venue SHOW --out FILE.html`: what a venue is told of the show, from its figures and its takes, as a page to be printed. */
export async function venueCommand(showPath: string, given: VenueArguments): Promise<void> {
  const { out, date = today() } = given
  const show = readShow(showPath)
  refuseOverwriting(out, [[showPath, 'the show'], ...takePaths(show, showPath, given.take)])
  const gig = await countTakes(show, showPath, given)
  writePage(out, venuePage(show, gig, { date }))
  const faults = gig.songs.flatMap(({ takes }) => takes).flatMap((take) => (take.ok ? [] : [take]))
  for (const { song, take, why } of faults) process.stderr.write(`song ${song}, take ${take}: ${why}\n`)
  process.stdout.write(`${out}: open it in a browser and print it\n`)
}

function takePaths(show: Show, showPath: string, given: readonly string[]): [string, string][] {
  const folder = dirname(resolve(showPath))
  const own = show.songs.flatMap(({ takes }) => takes.map((take) => resolve(folder, take)))
  return [...own, ...given].map((path) => [path, 'a take'])
}
