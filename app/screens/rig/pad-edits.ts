import type { ShowChange } from '../../../src/contract/to-host.ts'
import type { PlayerId } from '../../../src/domain/ids.ts'
import type { PadCurve } from '../../../src/domain/pad-curve.ts'
import type { Pad, PadsPlayer } from '../../../src/domain/player.ts'
import type { Key } from '../../../src/domain/units.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'

type Way = readonly (string | number)[]

/** What a pad may say itself in place of its player. */
export type PadField = 'floor' | 'maskMs' | 'gateMs' | 'curve'

/** The player's own curve. */
export function setCurve(id: PlayerId, curve: PadCurve): MakeEdit {
  return change(id, ({ name }, way) => ({
    label: `curve of ${name}`,
    changes: [set([...way, 'curve'], curve)],
  }))
}

/** A pad without settings of its own, to be named; nothing where the key has one. */
export function addPad(id: PlayerId, key: Key): MakeEdit {
  return change(id, ({ name, pads }, way) => {
    if (pads.some((pad) => pad.key === key)) return undefined
    const value = { key, name: `Pad ${key}` }
    return { label: `pad ${key} of ${name} added`, changes: [insert([...way, 'pads', pads.length], value)] }
  })
}

export function renamePad(id: PlayerId, key: Key, name: string): MakeEdit {
  return changePad(id, key, 'name', (_, way) => [set([...way, 'name'], name)])
}

export function movePad(id: PlayerId, from: Key, to: Key): MakeEdit {
  return changePad(id, from, 'key', (_, way) => [set([...way, 'key'], to)])
}

/** `value`: null is as the player has it. */
export function setPad(
  id: PlayerId,
  key: Key,
  field: PadField,
  words: string,
  value: PadCurve | number | null,
): MakeEdit {
  return changePad(id, key, words, (pad, way) => {
    if (value !== null) return [set([...way, field], value)]
    return pad[field] === undefined ? [] : [remove([...way, field])]
  })
}

export function removePad(id: PlayerId, key: Key): MakeEdit {
  return change(id, ({ pads }, way) => {
    const place = pads.findIndex((pad) => pad.key === key)
    const pad = pads[place]
    if (!pad) return undefined
    return { label: `pad ${pad.name} removed`, changes: [remove([...way, 'pads', place])] }
  })
}

function change(id: PlayerId, make: (player: PadsPlayer, way: Way) => ReturnType<MakeEdit>): MakeEdit {
  return ({ players }) => {
    const place = players.findIndex((player) => player.id === id)
    const player = players[place]
    return player?.kind === 'pads' ? make(player, ['players', place]) : undefined
  }
}

function changePad(
  id: PlayerId,
  key: Key,
  words: string,
  make: (pad: Pad, way: Way) => ShowChange[],
): MakeEdit {
  return change(id, ({ pads }, way) => {
    const place = pads.findIndex((pad) => pad.key === key)
    const pad = pads[place]
    if (!pad) return undefined
    const changes = make(pad, [...way, 'pads', place])
    return changes.length === 0 ? undefined : { label: `${words} of pad ${pad.name}`, changes }
  })
}
