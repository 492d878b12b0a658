import type { StrategyForm } from '../../../src/contract/from-host.ts'
import type { ShowChange } from '../../../src/contract/to-host.ts'
import type { LampId } from '../../../src/domain/ids.ts'
import type { Show } from '../../../src/domain/show.ts'
import { remove, set } from '../sheet/edit.ts'
import { fieldsOf } from '../sheet/form-model.ts'
import { relisted } from '../sheet/lamp-lists.ts'
import { patternsRenamed, patternsWithout } from './pattern-lamps.ts'

/** A part that uses something of the rig, and where it stands. */
export interface PartUse {
  readonly song: number
  readonly part: number
  readonly title: string
  readonly id: string
  /** The part cannot be without it, and goes with it. */
  readonly goes: boolean
}

export function lampUses(show: Show, lamp: LampId): PartUse[] {
  return show.songs.flatMap(({ title, parts }, song) =>
    parts.flatMap(({ id, lamps }, part) =>
      lamps.includes(lamp) ? [{ song, part, title, id, goes: lamps.length === 1 }] : [],
    ),
  )
}

/** "lead in Tide table" */
export function useText({ id, title }: PartUse): string {
  return `${id} in ${title}`
}

/** Takes a lamp out of every part and pattern, with what its strategy says of that lamp; parts without another lamp go. */
export function withoutLamp(show: Show, lamp: LampId, strategies: readonly StrategyForm[]): ShowChange[] {
  const uses = lampUses(show, lamp)
  const kept = uses.flatMap((use) => (use.goes ? [] : partWithout(show, use, lamp, strategies)))
  return [...kept, ...patternsWithout(show, lamp), ...removeParts(uses.filter(({ goes }) => goes))]
}

/** Last first, so that the places before stay what they are. */
export function removeParts(uses: readonly Pick<PartUse, 'song' | 'part'>[]): ShowChange[] {
  return uses.toReversed().map(({ song, part }) => remove(['songs', song, 'parts', part]))
}

function partWithout(
  show: Show,
  { song, part }: PartUse,
  lamp: LampId,
  strategies: readonly StrategyForm[],
): ShowChange[] {
  const found = show.songs[song]?.parts[part]
  if (!found) return []
  const path = ['songs', song, 'parts', part]
  const lamps = found.lamps.filter((id) => id !== lamp)
  const form = strategies.find(({ kind }) => kind === found.strategy.kind)
  const options = Object.entries(relisted(found.strategy, fieldsOf(form?.options), found.lamps, lamps))
  const { width } = found.strategy
  // As many lamps wide as there are left, at most.
  if (typeof width === 'number' && width > lamps.length) options.push(['width', lamps.length])
  return [
    set([...path, 'lamps'], lamps),
    ...options.map(([option, value]) => set([...path, 'strategy', option], value)),
  ]
}

/** Calls a lamp by another id wherever the songs name it. */
export function renameInSongs(show: Show, from: LampId, to: LampId): ShowChange[] {
  const inParts = lampUses(show, from).flatMap(({ song, part }) => {
    const found = show.songs[song]?.parts[part]
    if (!found) return []
    const path = ['songs', song, 'parts', part]
    const renamed = (list: readonly unknown[]): unknown[] => list.map((one) => (one === from ? to : one))
    // Only a list of lamps holds ids; other lists of a strategy are numbers.
    const lists = Object.entries(found.strategy).flatMap(([option, value]) =>
      Array.isArray(value) && value.includes(from)
        ? [set([...path, 'strategy', option], renamed(value))]
        : [],
    )
    return [set([...path, 'lamps'], renamed(found.lamps)), ...lists]
  })
  return [...inParts, ...patternsRenamed(show, from, to)]
}
