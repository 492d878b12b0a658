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
}
