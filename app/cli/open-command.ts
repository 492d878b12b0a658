import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { render } from '../../src/offline/render.ts'
import { Failure } from './failure.ts'
import { createProgress } from './progress.ts'
import { readShow } from './read-show.ts'
import { readTake } from './read-take.ts'

/** The show that comes with Lanthorn, with its take. */
const DEMO = fileURLToPath(new URL('../assets/shows/glasshouse.json', import.meta.url))

/** `lanthorn open [SHOW]`: renders the take that lies beside the show, song by song, and shows the lamps over time. */
export function openCommand(path: string = DEMO): void {
  const show = readShow(path)
  const takePath = path.replace(/\.json$/, '.mid')
  if (takePath === path || !existsSync(takePath)) {
    throw new Failure(
      `${path}: no take lies beside it (${takePath}); use lanthorn render SHOW TAKE.mid --out DIR`,
    )
  }
  const take = readTake(takePath, show, new Map())
  process.stdout.write(`${show.title}\n`)
  for (const id of show.setList) {
    const song = show.songs.find((one) => one.id === id)
    if (!song) continue
    const progress = createProgress(song.title)
    const { summary } = render(show, id, take, { progress: (done) => progress.show(done) })
    progress.end()
    process.stdout.write(`\n${song.title}: ${song.tempo} beats a minute, tuning ${song.tuning}\n${summary}\n`)
  }
  process.stdout.write(`\n${CAUTION}\n`)
}

const CAUTION = `Flashing light can trigger photosensitive seizures; lamps and supplies can burn; the sound can be loud. Lanthorn counts what it can
count. It is not a safety device: follow local codes, and have wiring and power looked at by somebody licensed to.`
