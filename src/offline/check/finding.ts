import type { JsonPath } from '../../show/json-path.ts'
import { pathText } from '../../show/json-path.ts'

/** `fault`: it cannot work as written. `warning`: something will be heard or seen to go wrong. `note`: worth knowing. */
export type Gravity = 'fault' | 'warning' | 'note'

/** Gravest first. */
export const GRAVITIES: readonly Gravity[] = ['fault', 'warning', 'note']

/** One thing about a show. */
export interface CheckFinding {
  readonly gravity: Gravity
  /** A JSON path such as `$.rig.lamps[2]`, or words such as "song tide, part lead". */
  readonly where: string
  /** What it is, with numbers, and what to do. */
  readonly message: string
  /** Where in the show to mend it; the first place, where there are several. Absent: nowhere in particular. */
  readonly path?: JsonPath | undefined
}

/** Where a finding is, in words and as a path. */
export type FindingPlace = Pick<CheckFinding, 'where' | 'path'>

/** A place that is told by its path. */
export function placeAt(path: JsonPath): FindingPlace {
  return { where: pathText(path), path }
}
