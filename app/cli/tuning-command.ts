import { readFileSync } from 'node:fs'
import { extname } from 'node:path'
import type { Show } from '../../src/domain/show.ts'
import type { ScaleTuning } from '../../src/domain/tuning-spec.ts'
import type { Key } from '../../src/domain/units.ts'
import { partTunings } from '../../src/offline/tuning/part-tuning.ts'
import { scaleJson, scaleText as scaleTableText } from '../../src/offline/tuning/scale-table.ts'
import { tuningJson } from '../../src/offline/tuning/tuning-json.ts'
import { tuningText } from '../../src/offline/tuning/tuning-text.ts'
import { parseScale } from '../../src/tuning/scale-file.ts'
import { fileTrouble } from '../engine/host/file-trouble.ts'
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

/** More than any file of 500,000 characters needs. */
const MOST_BYTES = 2_000_000

/** `lanthorn tuning SHOW|FILE.scl`: what every key wants, and what lamps, or outputs as most are, really make of it. */
export function tuningCommand(path: string, given: TuningArguments): void {
  const lines = isScale(path) ? scaleLines(path, given) : showLines(readShow(path), given)
  process.stdout.write(`${lines.join('\n')}\n`)
}

function isScale(path: string): boolean {
  return extname(path).toLowerCase() === '.scl'
}

function scaleLines(path: string, { map, json, ...ofShow }: TuningArguments): string[] {
  const [option] = Object.keys(ofShow)
  if (option !== undefined) throw new WrongUsage(`--${option} goes with a show; ${path} is a scale file`)
  const kbm = map === undefined ? undefined : { name: map, text: scaleText(map, 'a keyboard mapping') }
  const read = parseScale({ name: path, text: scaleText(path, 'a scale file') }, kbm)
  if (!read.ok) throw new Failure(read.faults.join('\n'))
  const tuning: ScaleTuning = { id: 'scale', kind: 'scale', ...read.scale }
  return json === true ? scaleJson(tuning) : [scaleTableText(tuning)]
}

/** Names in scale files are often in an older code than UTF-8: what is no UTF-8 is taken for ISO 8859-1, as their published description has it (from memory). */
function scaleText(path: string, what: string): string {
  let bytes: Buffer
  try {
    bytes = readFileSync(path)
  } catch (error) {
    throw new Failure(`${path}: ${fileTrouble(error)}`)
  }
  if (bytes.length > MOST_BYTES)
    throw new Failure(`${path}: ${bytes.length} bytes, too long for ${what}; expected ${MOST_BYTES} at most`)
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('latin1').decode(bytes)
  }
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
