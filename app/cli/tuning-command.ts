import type { Show } from '../../src/domain/show.ts'
import type { Key } from '../../src/domain/units.ts'
import { partTunings } from '../../src/offline/tuning/part-tuning.ts'
import { tuningJson } from '../../src/offline/tuning/tuning-json.ts'
import { tuningText } from '../../src/offline/tuning/tuning-text.ts'
import { Failure, WrongUsage } from './failure.ts'
import { readShow } from './read-show.ts'

export interface TuningArguments {
  readonly map?: string
  readonly song?: string
  readonly part?: string
  readonly lamp?: string
  readonly chord?: readonly Key[]
  readonly json?: boolean
}

/** `lanthorn tuning SHOW`: what every key wants and what lamps really make of it. */
export function tuningCommand(path: string, given: TuningArguments): void {
  const lines = showLines(readShow(path), given)
  process.stdout.write(`${lines.join('\n')}\n`)
}

function showLines(show: Show, { map, song, part, lamp, chord, json }: TuningArguments): string[] {
  if (map !== undefined)
    throw new WrongUsage('--map goes with a scale file (.scl); a show has its maps in itself')
  known('song', song, show.songs)
  const songs = show.songs.filter(({ id }) => song === undefined || id === song)
  const inSong = song === undefined ? 'show' : `song "${song}"`
  known(
    'part',
    part,
    songs.flatMap(({ parts }) => parts),
    inSong,
  )
  known('lamp', lamp, show.rig.lamps)
  const parts = partTunings(show, { song, part, lamp, chord })
  if (parts.length === 0) {
    const of = lamp === undefined ? '' : ` of lamp "${lamp}"`
    throw new Failure(
      `The ${inSong} has no part${part === undefined ? '' : ` "${part}"`}${of}: there is no tuning to tell`,
    )
  }
  return json === true ? tuningJson(parts) : [tuningText(parts)]
}

function known(
  what: string,
  asked: string | undefined,
  all: readonly { readonly id: string }[],
  where = 'show',
): void {
  const ids = [...new Set(all.map(({ id }) => id))]
  if (asked === undefined || ids.includes(asked)) return
  throw new Failure(
    `The ${where} has no ${what} "${asked}"; it has ${ids.length === 0 ? 'none' : ids.join(', ')}`,
  )
}
