import type { LampStatus } from '../../../src/contract/from-engine.ts'
import type { Part } from '../../../src/domain/song.ts'
import type { Duty } from '../../../src/domain/units.ts'
import { noteName } from '../wording/note-name.ts'

/** A duty, and what it is: an end of what the part's duty can be, or a lamp's that is lit. */
export interface NamedDuty {
  readonly id: string
  readonly name: string
  readonly duty: Duty
}

/** What a part's duty can be, by its source in the show. */
export function partDuties({ duty }: Part): NamedDuty[] {
  const { base, low, high, controller, velocity, keys, sweepSeconds } = duty
  const ends = [
    { id: 'low', name: 'low', duty: low },
    { id: 'high', name: 'high', duty: high },
  ]
  if (velocity === true || sweepSeconds !== undefined) return ends
  if (keys) return ends.map((end, at) => ({ ...end, name: `${end.name}, ${noteName(keys[at] ?? 0)}` }))
  const rest = { id: 'base', name: 'base', duty: base }
  return controller === undefined ? [rest] : [rest, ...ends]
}

/** The duties of the lamps that a part lights now, to a thousandth: a screen need not follow finer. */
export function liveDuties(
  lamps: ReadonlyMap<string, LampStatus>,
  part: string,
  nameOf: (lamp: string) => string,
): NamedDuty[] {
  return [...lamps.values()].flatMap((lamp) =>
    lamp.on && !lamp.glow && lamp.part === part && lamp.duty !== undefined
      ? [{ id: `lamp ${lamp.lamp}`, name: nameOf(lamp.lamp), duty: Number(lamp.duty.toFixed(3)) }]
      : [],
  )
}
