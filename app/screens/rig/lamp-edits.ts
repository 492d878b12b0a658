import type { StrategyForm } from '../../../src/contract/from-host.ts'
import type { LampId } from '../../../src/domain/ids.ts'
import type { Lamp, LampHeat } from '../../../src/domain/rig.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Edit, MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import { freeId, freePlant } from './plant-names.ts'
import { nudged } from './plan-scale.ts'
import { renameInSongs, withoutLamp } from './lamp-uses.ts'

/** What the fields of a lamp are called in labels of edits and heads of columns. */
export const LAMP_FIELDS = {
  name: 'name',
  output: 'output',
  slot: 'slot',
  supply: 'supply',
  watts: 'watts',
  x: 'x',
  y: 'y',
  lowHz: 'lowest rate',
  highHz: 'highest rate',
  minDuty: 'least duty',
  maxDuty: 'most duty',
  trimCents: 'trim',
  delayMs: 'delay',
} as const satisfies Partial<Record<keyof Lamp, string>>

export type LampField = keyof typeof LAMP_FIELDS

export function setLamp(id: LampId, values: Partial<Pick<Lamp, LampField>>): MakeEdit {
  return (show) => {
    const place = show.rig.lamps.findIndex((lamp) => lamp.id === id)
    const lamp = show.rig.lamps[place]
    if (!lamp) return undefined
    const fields = Object.keys(values) as LampField[]
    const changes = fields.flatMap((field) => {
      const value = values[field]
      if (value === undefined || value === lamp[field]) return []
      return [set(['rig', 'lamps', place, field], value)]
    })
    const words = fields.map((field) => LAMP_FIELDS[field]).join(' and ')
    return changes.length === 0 ? undefined : { label: `${words} of ${lamp.name}`, changes }
  }
}

/**
 * What a lamp bears in the mean; undefined: what it draws, for as long as you like. One that has just been said to bear less bears half of what it draws over 10 s
 * until somebody says what its maker says.
 */
export function setLampHeat(id: LampId, values: Partial<LampHeat> | undefined): MakeEdit {
  return (show) => {
    const place = show.rig.lamps.findIndex((lamp) => lamp.id === id)
    const lamp = show.rig.lamps[place]
    if (!lamp) return undefined
    const path = ['rig', 'lamps', place, 'heat']
    if (values === undefined)
      return lamp.heat && { label: `mean power of ${lamp.name} no matter`, changes: [remove(path)] }
    const before = lamp.heat ?? { meanWatts: lamp.watts / 2, seconds: USUAL_HEAT_SECONDS }
    return { label: `mean power of ${lamp.name}`, changes: [set(path, { ...before, ...values })] }
  }
}

/** As in the show file. */
const USUAL_HEAT_SECONDS = 10

/** From where it hangs by then: another move may be on its way. */
export function shiftLamp(id: LampId, right: number, up: number): MakeEdit {
  return (show) => {
    const lamp = show.rig.lamps.find((one) => one.id === id)
    return lamp && setLamp(id, { x: nudged(lamp.x, right), y: nudged(lamp.y, up) })(show)
  }
}

/** Another id, in the rig and in every part that names the lamp. */
export function renameLamp(from: LampId, to: LampId): MakeEdit {
  return (show) => {
    const place = show.rig.lamps.findIndex(({ id }) => id === from)
    if (place < 0) return undefined
    return {
      label: `id of lamp ${from}`,
      changes: [set(['rig', 'lamps', place, 'id'], to), ...renameInSongs(show, from, to)],
    }
  }
}

/** Another lamp like the last one, on the next free slot of its output, a step to the right of all. */
export function addLamp(show: Show): Edit | undefined {
  const { lamps, outputs, supplies } = show.rig
  const like = lamps.at(-1)
  const output = like?.output ?? outputs[0]?.id
  const supply = like?.supply ?? supplies[0]?.id
  if (output === undefined || supply === undefined) return undefined
  const name = freePlant(lamps)
  const lamp: Lamp = {
    ...(like ?? { watts: 10, y: 0, lowHz: 20, highHz: 4200, minDuty: 0.02, maxDuty: 0.5, delayMs: 0 }),
    id: freeId(name, lamps),
    name,
    output,
    supply,
    slot: freeSlot(show, output),
    x: lamps.length === 0 ? 0 : Math.ceil(Math.max(...lamps.map(({ x }) => x))) + 1,
    trimCents: 0,
  }
  return { label: `lamp ${name} added`, changes: [insert(['rig', 'lamps', lamps.length], lamp)] }
}

/** The lowest slot of an output that no lamp has. */
export function freeSlot({ rig }: Show, output: string): number {
  const taken = new Set(rig.lamps.filter((lamp) => lamp.output === output).map(({ slot }) => slot))
  return Array.from({ length: taken.size + 1 }, (_, slot) => slot).find((slot) => !taken.has(slot)) ?? 0
}

/** Moves a lamp to another output, onto a slot that is free there. */
export function moveLamp(id: LampId, output: string): MakeEdit {
  return (show) => {
    const lamp = show.rig.lamps.find((one) => one.id === id)
    if (!lamp || lamp.output === output) return undefined
    const isFree = !show.rig.lamps.some((one) => one.output === output && one.slot === lamp.slot)
    return setLamp(id, { output, slot: isFree ? lamp.slot : freeSlot(show, output) })(show)
  }
}

/** Out of the rig and of every part that uses it. */
export function removeLamp(id: LampId, strategies: readonly StrategyForm[]): MakeEdit {
  return (show) => {
    const place = show.rig.lamps.findIndex((lamp) => lamp.id === id)
    const lamp = show.rig.lamps[place]
    if (!lamp) return undefined
    const changes = [...withoutLamp(show, id, strategies), remove(['rig', 'lamps', place])]
    return { label: `lamp ${lamp.name} removed`, changes }
  }
}
