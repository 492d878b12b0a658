import type { Show } from '../../../src/domain/show.ts'
import type { EqualTuning } from '../../../src/domain/tuning-spec.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import { newId } from '../sheet/new-id.ts'

/** What of a tuning can be typed. */
export type TuningField = 'steps' | 'periodCents' | 'refNote' | 'refHz'

const FIELD_WORDS: Readonly<Record<TuningField, string>> = {
  steps: 'steps',
  periodCents: 'period',
  refNote: 'reference key',
  refHz: 'reference pitch',
}

export function setTuningField(id: string, field: TuningField, value: number): MakeEdit {
  return (show) => {
    const index = placeOf(show, id)
    if (index < 0) return undefined
    return {
      label: `${FIELD_WORDS[field]} of tuning ${id}`,
      changes: [set(['tunings', index, field], value)],
    }
  }
}

/** A new name, in the songs that use it too. */
export function renameTuning(id: string, name: string): MakeEdit {
  return (show) => {
    const index = placeOf(show, id)
    if (index < 0) return undefined
    const songs = show.songs.flatMap((song, place) =>
      song.tuning === id ? [set(['songs', place, 'tuning'], name)] : [],
    )
    return { label: `name of tuning ${id}`, changes: [set(['tunings', index, 'id'], name), ...songs] }
  }
}

/** Twelve equal steps an octave, 440 Hz at key 69 (ISO 16), to be changed from there. */
export function addTuning(): MakeEdit {
  return ({ tunings }) => {
    const id = newId(
      'tuning',
      tunings.map((one) => one.id),
    )
    const made: EqualTuning = { id, kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }
    return { label: `add tuning ${id}`, changes: [insert(['tunings', tunings.length], made)] }
  }
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
  const songs = show.songs.filter(({ tuning }) => tuning === id)
  if (songs.length > 0) return `in use by ${songs.map(({ title }) => title).join(', ')}`
  return show.tunings.length === 1 ? 'the only one' : ''
}

function placeOf({ tunings }: Show, id: string): number {
  return tunings.findIndex((tuning) => tuning.id === id)
}
