import type { ShowChange } from '../../../src/contract/to-host.ts'
import type { PlayerId } from '../../../src/domain/ids.ts'
import type { Player, StringsMode } from '../../../src/domain/player.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import type { PartUse } from './lamp-uses.ts'
import { removeParts } from './lamp-uses.ts'
import { freeId } from './plant-names.ts'
import { NOT_CHOSEN, removeThru } from './wiring-edits.ts'

export type PlayerKind = Player['kind']

/** What each kind of player is set by, with its usual values, as in the show file. */
export const KIND_NUMBERS = {
  keys: { bendRange: 2 },
  pads: { floor: 8, maskMs: 12, crosstalkMs: 5, gateMs: 120 },
  strings: { minNoteMs: 20, octaveGuardMs: 40, bendSmoothMs: 0, bendRange: 12 },
} as const satisfies Record<PlayerKind, Record<string, number>>

export const KIND_NAMES: Readonly<Record<PlayerKind, string>> = {
  keys: 'Keys',
  pads: 'Pads',
  strings: 'Strings',
}

/** The usual channels of each kind: pads on 10 as drums are, a string instrument one a string. */
export const KIND_CHANNELS: Readonly<Record<PlayerKind, readonly number[]>> = {
  keys: [1],
  pads: [10],
  strings: [1, 2, 3, 4],
}

type SetPlayer = (player: Player, path: readonly (string | number)[]) => ShowChange[]

function change(id: PlayerId, words: string, make: SetPlayer): MakeEdit {
  return ({ players }) => {
    const place = players.findIndex((player) => player.id === id)
    const player = players[place]
    if (!player) return undefined
    return { label: `${words} of ${player.name}`, changes: make(player, ['players', place]) }
  }
}

export function setPlayerNumber(id: PlayerId, field: string, words: string, value: number): MakeEdit {
  return change(id, words, (_, path) => [set([...path, field], value)])
}

export function setPlayerName(id: PlayerId, name: string): MakeEdit {
  return change(id, 'name', (_, path) => [set([...path, 'name'], name)])
}

export function setInput(id: PlayerId, words: string, input: Partial<Player['input']>): MakeEdit {
  return change(id, words, (_, path) =>
    Object.entries(input).map(([field, value]) => set([...path, 'input', field], value)),
  )
}

/** `null`: it goes by how many channels there are. */
export function setStringsMode(id: PlayerId, mode: StringsMode | null): MakeEdit {
  return change(id, 'mode', (player, path) => {
    if (mode !== null) return [set([...path, 'mode'], mode)]
    return player.kind === 'strings' && player.mode !== undefined ? [remove([...path, 'mode'])] : []
  })
}

export function setLegato(id: PlayerId, isLegato: boolean): MakeEdit {
  return change(id, 'legato', (_, path) => [set([...path, 'legato'], isLegato)])
}

/** Another kind: what the new kind is set by starts with its usual values. */
export function setKind(id: PlayerId, kind: PlayerKind): MakeEdit {
  return change(id, 'kind', ({ name, input }, path) => [
    set(path, { id, name, kind, input, ...KIND_NUMBERS[kind] }),
  ])
}

export function renamePlayer(from: PlayerId, to: PlayerId): MakeEdit {
  return (show) => {
    const place = show.players.findIndex(({ id }) => id === from)
    if (place < 0) return undefined
    const changes = [
      set(['players', place, 'id'], to),
      ...show.songs.flatMap(({ parts }, song) =>
        parts.flatMap(({ player }, part) =>
          player === from ? [set(['songs', song, 'parts', part, 'player'], to)] : [],
        ),
      ),
      ...show.thru.flatMap(({ player }, at) => (player === from ? [set(['thru', at, 'player'], to)] : [])),
      ...show.switching.controls.flatMap(({ player }, at) =>
        player === from ? [set(['switching', 'controls', at, 'player'], to)] : [],
      ),
    ]
    return { label: `id of player ${from}`, changes }
  }
}

export function addPlayer(kind: PlayerKind, port: string = NOT_CHOSEN): MakeEdit {
  return ({ players }) => {
    const id = freeId(kind, players)
    const taken = new Set(players.map(({ name }) => name))
    const name = taken.has(KIND_NAMES[kind]) ? `${KIND_NAMES[kind]} (${id})` : KIND_NAMES[kind]
    const value = {
      id,
      name,
      kind,
      input: { port, channels: KIND_CHANNELS[kind] },
      ...KIND_NUMBERS[kind],
    }
    return {
      label: `player ${name} added`,
      changes: [insert(['players', players.length], value)],
    }
  }
}

/** The parts that a player plays; they go with it. */
export function playerUses(show: Show, player: PlayerId): PartUse[] {
  return show.songs.flatMap(({ title, parts }, song) =>
    parts.flatMap((part, place) =>
      part.player === player ? [{ song, part: place, title, id: part.id, goes: true }] : [],
    ),
  )
}

/** What a player changes songs by goes with it. Last first, so that the places before stay what they are. */
function removeControls(controls: Show['switching']['controls'], id: PlayerId): ShowChange[] {
  const places = controls.flatMap(({ player }, place) => (player === id ? [place] : []))
  return places.toReversed().map((place) => remove(['switching', 'controls', place]))
}

export function removePlayer(id: PlayerId): MakeEdit {
  return (show) => {
    const place = show.players.findIndex((player) => player.id === id)
    const player = show.players[place]
    if (!player) return undefined
    const changes = [
      ...removeParts(playerUses(show, id)),
      ...removeThru(show.thru, (one) => one.player === id),
      ...removeControls(show.switching.controls, id),
      remove(['players', place]),
    ]
    return { label: `player ${player.name} removed`, changes }
  }
}
