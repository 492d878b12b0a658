import { dirname, resolve } from 'node:path'
import type { Show } from '../../src/domain/show.ts'
import type { Song } from '../../src/domain/song.ts'
import { countTake } from '../../src/offline/gig-check/count-take.ts'
import type { GigCheck } from '../../src/offline/gig-check/gig-check.ts'
import { gigCheck } from '../../src/offline/gig-check/gig-check.ts'
import type { TakeResult } from '../../src/offline/gig-check/take-result.ts'
import { readMidiBytes, readTakeFile } from '../engine/host/take-file.ts'
import type { TakeFile } from '../engine/host/take-file.ts'
import { WrongUsage } from './failure.ts'
import { createProgress } from './progress.ts'
import { songOf } from './read-show.ts'

/** Takes besides those that the show names, and the song that they are of. */
export interface TakeArguments {
  readonly take: readonly string[]
  readonly song?: string
}

interface Wanted {
  readonly song: Song
  readonly take: string
  readonly file: Promise<TakeFile>
}

/** Plays every take of the show's songs, and those given besides, and counts. A take that cannot be read is a finding. */
export async function countTakes(
  show: Show,
  showPath: string,
  { take, song }: TakeArguments,
): Promise<GigCheck> {
  if (song !== undefined && take.length === 0)
    throw new WrongUsage('--song says which song a --take is of; give a --take with it')
  const folder = dirname(resolve(showPath))
  const own = show.songs.flatMap((one) =>
    one.takes.map((name): Wanted => ({ song: one, take: name, file: readTakeFile(folder, name) })),
  )
  const id = songOf(show, song)
  const given = show.songs
    .filter((one) => one.id === id)
    .flatMap((one) => take.map((path): Wanted => ({ song: one, take: path, file: readMidiBytes(path) })))
  return gigCheck(show, await played(show, [...own, ...given]))
}

async function played(show: Show, wanted: readonly Wanted[]): Promise<TakeResult[]> {
  const progress = createProgress('counting takes')
  const results: TakeResult[] = []
  try {
    for (const { song, take, file } of wanted) {
      const read = await file
      if (!read.ok) {
        results.push({ ok: false, song: song.id, take, why: read.why })
        continue
      }
      const pieces = countTake(show, song, take, read.bytes)
      let piece = pieces.next()
      for (; piece.done !== true; piece = pieces.next())
        progress.show((results.length + piece.value) / wanted.length)
      results.push(piece.value)
    }
    return results
  } finally {
    progress.end()
  }
}
