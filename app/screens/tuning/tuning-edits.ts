import type { ScaleWord } from '../../../src/contract/from-host.ts'
import type { ShowChange } from '../../../src/contract/to-host.ts'
import type { Show } from '../../../src/domain/show.ts'
import type { EqualTuning, ReceivedTuning, ScaleTuning, TuningSpec } from '../../../src/domain/tuning-spec.ts'
import type { Edit, MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import { newId } from '../sheet/new-id.ts'

/** What of a tuning can be set. */
export type TuningField = Exclude<keyof EqualTuning | keyof ScaleTuning | keyof ReceivedTuning, 'id' | 'kind'>

const FIELD_WORDS: Readonly<Record<TuningField, string>> = {
  steps: 'steps',
  periodCents: 'period',
  refNote: 'reference key',
  refHz: 'reference pitch',
  name: 'description',
  pitches: 'pitches',
  map: 'key map',
  player: 'player',
  program: 'program',
  bank: 'bank',
  base: 'base',
}

/** Undefined takes it away, where it may be left out. */
export function setTuningField(id: string, field: TuningField, value: unknown): MakeEdit {
  return (show) => {
    const index = placeOf(show, id)
    if (index < 0) return undefined
    const way = ['tunings', index, field]
    const hasNone = !(field in (show.tunings[index] ?? {}))
    if (value === undefined && hasNone) return undefined
    return {
      label: `${FIELD_WORDS[field]} of tuning ${id}`,
      changes: [value === undefined ? remove(way) : set(way, value)],
    }
  }
}

/** A new name, wherever it is said too: in songs, parts, controls, and tunings that are received. */
export function renameTuning(id: string, name: string): MakeEdit {
  return (show) => {
    const index = placeOf(show, id)
    if (index < 0) return undefined
    const uses = usesOf(show, id).map(({ way }) => set(way, name))
    return { label: `name of tuning ${id}`, changes: [set(['tunings', index, 'id'], name), ...uses] }
  }
}

/** Twelve equal steps an octave, 440 Hz at key 69 (ISO 16), to be changed from there. */
export function addEqual(): MakeEdit {
  return (show) =>
    added(show, 'tuning', { kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 })
}

/** Middle C, key 60, of equal temperament at 440 Hz: where a scale that says nothing else begins. */
export const SCALE_REFERENCE = { refNote: 60, refHz: 261.625565 } as const

/** `called`: what its name in the show is made of. */
export function addScale(scale: ScaleWord, called = scale.name || 'scale'): MakeEdit {
  return (show) => added(show, called, { kind: 'scale', ...scale })
}

/** As a player's instrument tells it; undefined where the show has no player, or no tuning to begin in. */
export function addReceived(): MakeEdit {
  return (show) => {
    const [player] = show.players
    const base = show.tunings.find(({ kind }) => kind !== 'received')
    if (!player || !base) return undefined
    return added(show, `from ${player.id}`, {
      kind: 'received',
      player: player.id,
      program: 0,
      base: base.id,
    })
  }
}

/** The id that a tuning called so gets: letters, digits and strokes. */
export function tuningId(show: Show, called: string): string {
  return newId(
    called,
    show.tunings.map(({ id }) => id),
  )
}

export function removeTuning(id: string): MakeEdit {
  return (show) => {
    const index = placeOf(show, id)
    return index < 0 ? undefined : { label: `remove tuning ${id}`, changes: [remove(['tunings', index])] }
  }
}

export function setSongTuning(songId: string, tuning: string): MakeEdit {
  return (show) => {
    const index = show.songs.findIndex(({ id }) => id === songId)
    if (index < 0) return undefined
    const title = show.songs[index]?.title ?? songId
    return { label: `tuning of ${title}`, changes: [set(['songs', index, 'tuning'], tuning)] }
  }
}

/** Why a tuning cannot be taken out; empty: it can. */
export function whyKept(show: Show, id: string): string {
  const users = usesOf(show, id).map(({ who }) => who)
  if (users.length > 0) return `in use by ${[...new Set(users)].join(', ')}`
  return show.tunings.length === 1 ? 'the only one' : ''
}

/** Everything in the show that names a tuning: what it is, and its way. */
function usesOf(show: Show, id: string): { readonly who: string; readonly way: (string | number)[] }[] {
  return [
    ...show.songs.flatMap((song, at) => [
      ...(song.tuning === id ? [{ who: song.title, way: ['songs', at, 'tuning'] }] : []),
      ...song.parts.flatMap((part, place) =>
        part.tuning === id
          ? [{ who: `part ${part.id} of ${song.title}`, way: ['songs', at, 'parts', place, 'tuning'] }]
          : [],
      ),
    ]),
    ...show.switching.controls.flatMap((control, at) =>
      typeof control.do === 'object' && 'tuning' in control.do && control.do.tuning === id
        ? [{ who: `control ${at + 1}`, way: ['switching', 'controls', at, 'do', 'tuning'] }]
        : [],
    ),
    ...show.tunings.flatMap((tuning, at) =>
      tuning.kind === 'received' && tuning.base === id
        ? [{ who: `tuning ${tuning.id}`, way: ['tunings', at, 'base'] }]
        : [],
    ),
  ]
}

type WithoutId<T> = T extends unknown ? Omit<T, 'id'> : never

function added(show: Show, called: string, tuning: WithoutId<TuningSpec>): Edit {
  const id = tuningId(show, called)
  const changes: ShowChange[] = [insert(['tunings', show.tunings.length], { id, ...tuning })]
  return { label: `add tuning ${id}`, changes }
}

function placeOf({ tunings }: Show, id: string): number {
  return tunings.findIndex((tuning) => tuning.id === id)
}
