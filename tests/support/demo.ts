import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Show } from '../../src/domain/show.ts'
import { parseShow } from '../../src/show/parse-show.ts'
import { strategies } from '../../src/strategies/registry.ts'

const FOLDER = join(import.meta.dirname, '../../assets/shows')
/** The scales that come with the house. */
export const SCALES = join(import.meta.dirname, '../../assets/scales')
export const DEMO_SHOW = join(FOLDER, 'glasshouse.json')
export const DEMO_TAKE = join(FOLDER, 'glasshouse.mid')

/** The demo show; throws with its faults where it has any. */
export function demoShow(): Show {
  const parsed = parseShow(readFileSync(DEMO_SHOW, 'utf8'), strategies)
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults, null, 2))
  return parsed.show
}
