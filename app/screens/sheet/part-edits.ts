import type { StrategyForm } from '../../../src/contract/from-host.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { Part, Song } from '../../../src/domain/song.ts'
import type { Edit, MakeEdit } from './edit.ts'
import { insert, remove, set } from './edit.ts'
import { nameWords } from './field-words.ts'
import { fieldsOf } from './form-model.ts'
import { requiredOf } from './form-start.ts'
import type { Json } from './json.ts'
import { relisted } from './lamp-lists.ts'
import { moved } from './list-order.ts'
import { newId } from './new-id.ts'

/** A part by its song's id and its own. */
export interface PartPlace {
  readonly song: string
  readonly part: string
}

interface FoundPart {
  readonly song: Song
  readonly part: Part
  readonly place: number
  readonly path: readonly (string | number)[]
  /** "lead in Dew on the panes" */
  readonly name: string
}

export function findPart(show: Show, { song: songId, part: partId }: PartPlace): FoundPart | undefined {
  const songPlace = show.songs.findIndex(({ id }) => id === songId)
  const song = show.songs[songPlace]
  const place = song?.parts.findIndex(({ id }) => id === partId) ?? -1
  const part = song?.parts[place]
  if (!song || !part) return undefined
  const path = ['songs', songPlace, 'parts', place]
  return { song, part, place, path, name: `${part.id} in ${song.title}` }
}

/** A field of a part, as it shall be; undefined takes it away, where it may be left out. */
export function setPartField(
  where: PartPlace,
  field: keyof Part & string,
  value: unknown,
  called: string = field,
): MakeEdit {
  return onPart(where, ({ part, path, name }) => {
    if (value === undefined && part[field] === undefined) return undefined
    const way = [...path, field]
    return { label: `${called} of ${name}`, changes: [value === undefined ? remove(way) : set(way, value)] }
  })
}

/**
 * Another strategy, with what it has for usual; an option that has no usual value begins as its schema lets it. One that plays patterns gets a first one on the
 * part's lamps, to be named by it where the song has others already.
 */
export function setStrategyKind(where: PartPlace, { kind, options }: StrategyForm): MakeEdit {
  return onPart(where, ({ song, part, path, name }) => {
    const fields = fieldsOf(options)
    const chosen = { kind, ...requiredOf(fields, part.lamps) }
    const label = `Strategy of ${name}`
    const option = fields.find(({ field }) => field.kind === 'pattern')
    if (!option) return { label, changes: [set([...path, 'strategy'], chosen)] }
    const pattern = firstPattern(song, part)
    return {
      label,
      changes: [
        insert([...path.slice(0, 2), 'patterns', song.patterns.length], pattern),
        set([...path, 'strategy'], { ...chosen, [option.name]: pattern.id }),
      ],
    }
  })
}

/** One lamp after the other, on middle C. */
function firstPattern({ patterns }: Song, { lamps }: Part) {
  const id = newId(
    'pattern',
    patterns.map((one) => one.id),
  )
  const rows = lamps.slice(0, 128).map((lamp, place) => ({
    lamp,
    steps: lamps.slice(0, 128).map((_, step) => (step === place ? { note: 60 } : 0)),
  }))
  return { id, rows }
}

/** undefined leaves the option out. */
export function setStrategyOption(where: PartPlace, option: string, value: Json | undefined): MakeEdit {
  return onPart(where, ({ part, path, name }) => {
    const way = [...path, 'strategy', option]
    if (value === undefined && part.strategy[option] === undefined) return undefined
    return {
      label: `Strategy’s ${nameWords(option).label} of ${name}`,
      changes: [value === undefined ? remove(way) : set(way, value)],
    }
  })
}

/** Puts a lamp at the end of the part's order, or takes it out. */
export function toggleLamp(where: PartPlace, lamp: string, strategies: readonly StrategyForm[]): MakeEdit {
  return onLamps(where, strategies, (lamps) =>
    lamps.includes(lamp) ? lamps.filter((one) => one !== lamp) : [...lamps, lamp],
  )
}

/** Moves a lamp in the part's order; -1: one place earlier. */
export function moveLamp(
  where: PartPlace,
  lamp: string,
  by: number,
  strategies: readonly StrategyForm[],
): MakeEdit {
  return onLamps(where, strategies, (lamps) => {
    const from = lamps.indexOf(lamp)
    return moved(lamps, from, from + by)
  })
}

/** The part's lamps, in this order. */
export function orderLamps(
  where: PartPlace,
  lamps: readonly string[],
  strategies: readonly StrategyForm[],
): MakeEdit {
  return onLamps(where, strategies, () => lamps)
}

export function addPart(songId: string, kind: string): MakeEdit {
  return (show) => {
    const place = show.songs.findIndex(({ id }) => id === songId)
    const song = show.songs[place]
    const player = show.players[0]
    const lamp = show.rig.lamps[0]
    if (!song || !player || !lamp) return undefined
    const id = nextPartId(song)
    const part = { id, player: player.id, lamps: [lamp.id], strategy: { kind } }
    return {
      label: `Part ${id} added to ${song.title}`,
      changes: [insert(['songs', place, 'parts', song.parts.length], part)],
    }
  }
}

/** The id that a part added to the song gets. */
export function nextPartId(song: Song): string {
  return newId(
    'part',
    song.parts.map(({ id }) => id),
  )
}

export function removePart(where: PartPlace): MakeEdit {
  return onPart(where, ({ path, name }) => ({ label: `Part ${name} removed`, changes: [remove(path)] }))
}

export function movePart(where: PartPlace, by: number): MakeEdit {
  return onPart(where, ({ song, part, place, path, name }) => {
    const to = place + by
    if (to < 0 || to >= song.parts.length) return undefined
    const list = path.slice(0, -1)
    return {
      label: `Place of part ${name}`,
      changes: [remove(path), insert([...list, to], part)],
    }
  })
}

function onPart(where: PartPlace, make: (found: FoundPart) => Edit | undefined): MakeEdit {
  return (show) => {
    const found = findPart(show, where)
    return found && make(found)
  }
}

function onLamps(
  where: PartPlace,
  strategies: readonly StrategyForm[],
  next: (lamps: readonly string[]) => readonly string[],
): MakeEdit {
  return onPart(where, ({ part, path, name }) => {
    const lamps = next(part.lamps)
    if (lamps === part.lamps) return undefined
    const form = strategies.find(({ kind }) => kind === part.strategy.kind)
    const options = relisted(part.strategy, fieldsOf(form?.options), part.lamps, lamps)
    return {
      label: `Lamps of ${name}`,
      changes: [
        set([...path, 'lamps'], lamps),
        ...Object.entries(options).map(([option, value]) => set([...path, 'strategy', option], value)),
      ],
    }
  })
}
