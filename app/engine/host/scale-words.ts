import { readdir, readFile } from 'node:fs/promises'
import { basename, extname, join } from 'node:path'
import type { FromHost, ScaleWord } from '../../../src/contract/from-host.ts'
import type { ToHost } from '../../../src/contract/to-host.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Scale } from '../../../src/tuning/scale-file.ts'
import { parseScale, writeScale } from '../../../src/tuning/scale-file.ts'

const v = CONTRACT_VERSION

/** What a scale file and its keyboard mapping say; what is wrong with them where they cannot be read. */
export function scaleReadWord({ name, scl, kbm }: Extract<ToHost, { type: 'read-scale' }>): FromHost {
  const map = kbm === undefined ? undefined : { name: `the .kbm of ${name}`, text: kbm }
  const read = parseScale({ name, text: scl }, map)
  const scale = read.ok ? scaleWord(read.scale) : null
  return { v, type: 'scale-read', name, scale, faults: read.ok ? [] : [...read.faults] }
}

/** A tuning of the show as files; why not, where there is none or it is one that cannot be written. */
export function scaleWrittenWord(show: Show | undefined, id: string): FromHost {
  const failed = (message: string): FromHost => ({ v, type: 'failed', what: 'write-scale', message })
  if (!show) return failed('no show is open')
  const tuning = show.tunings.find((one) => one.id === id)
  if (!tuning) return failed(`the show has no tuning "${id}"; it was changed meanwhile`)
  const written = writeScale(tuning)
  if (written) return { v, type: 'scale-written', tuning: id, ...written }
  const base = tuning.kind === 'received' ? tuning.base : id
  return failed(
    `the tuning "${id}" is what a player's instrument says while it plays, so there is nothing to write; write its base "${base}"`,
  )
}

/** The scales that come with the house, by their files' names in the order of the alphabet. What cannot be read is left out and told of; never fails. */
export async function scalesWords(folder: string): Promise<FromHost[]> {
  const read = await houseScales(folder).catch((error: unknown) => [{ faults: [saidBy(error)] }])
  const faults = read.flatMap((one) => ('faults' in one ? one.faults : []))
  const scales = read.flatMap((one) => ('scale' in one ? one : []))
  const message = `scales of the house cannot be read: ${faults.join('\n')}`
  const told: FromHost = { v, type: 'scales', scales }
  return faults.length === 0 ? [told] : [told, { v, type: 'failed', what: 'ask-scales', message }]
}

type HouseScale =
  Extract<FromHost, { type: 'scales' }>['scales'][number] | { readonly faults: readonly string[] }

async function houseScales(folder: string): Promise<HouseScale[]> {
  const names = (await readdir(folder)).filter((name) => extname(name) === '.scl').sort()
  return Promise.all(names.map((name) => houseScale(folder, name)))
}

async function houseScale(folder: string, name: string): Promise<HouseScale> {
  try {
    const read = parseScale({ name, text: await readFile(join(folder, name), 'utf8') })
    return read.ok ? { id: basename(name, '.scl'), about: read.about, scale: scaleWord(read.scale) } : read
  } catch (error) {
    return { faults: [saidBy(error)] }
  }
}

function saidBy(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}

function scaleWord({ map, pitches, ...scale }: Scale): ScaleWord {
  return {
    ...scale,
    pitches: [...pitches],
    ...(map === undefined ? {} : { map: { ...map, degrees: [...map.degrees] } }),
  }
}
