import { readFileSync } from 'node:fs'
import type { SongId } from '../../src/domain/ids.ts'
import type { Show } from '../../src/domain/show.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { formatFaults } from '../../src/show/show-fault.ts'
import { strategies } from '../../src/strategies/registry.ts'
import { fileTrouble } from '../engine/host/file-trouble.ts'
import { Failure } from './failure.ts'

/** Reads a show file; a Failure says everything that is wrong with it. */
export function readShow(path: string): Show {
  let text: string
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(path))
  } catch (error) {
    const isText = error instanceof TypeError
    throw new Failure(
      `${path}: ${isText ? 'not a UTF-8 text; a show is a JSON file in UTF-8' : fileTrouble(error)}`,
    )
  }
  const parsed = parseShow(text, strategies)
  if (!parsed.ok)
    throw new Failure(`${path}: not a valid show; nothing was changed\n${formatFaults(parsed.faults)}`)
  for (const note of parsed.notes) process.stderr.write(`${path}: ${note}\n`)
  return parsed.show
}

/** The song asked for, or the first of the set list. */
export function songOf(show: Show, asked: string | undefined): SongId {
  const ids = show.songs.map(({ id }) => id)
  if (asked === undefined) return show.setList[0] ?? ids[0] ?? ''
  if (!ids.includes(asked)) throw new Failure(`The show has no song "${asked}"; it has ${ids.join(', ')}`)
  return asked
}
