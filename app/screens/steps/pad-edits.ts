import type { PatternPad } from '../../../src/domain/pattern.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import { noteName } from '../wording/note-name.ts'
import type { FoundPattern, PatternPlace } from './pattern-place.ts'
import { onPattern } from './pattern-place.ts'

export type PadAct = PatternPad['do']

/** What a pad may do, in the order of the list it is chosen from. */
export const PAD_ACTS: readonly { readonly value: PadAct; readonly text: string }[] = [
  { value: 'advance', text: 'one step on' },
  { value: 'back', text: 'one step back' },
  { value: 'restart', text: 'back to before the first step' },
  { value: 'stop', text: 'stop, all dark' },
  { value: 'next-pattern', text: 'to the next pattern' },
  { value: 'accent', text: 'accent the next step' },
  { value: 'mute-row', text: 'mute a row, or let it sound' },
  { value: 'note', text: 'a note of its own' },
]

/** A pad that moves the pattern on, to be changed; nothing where the key has one already. */
export function addPad(where: PatternPlace, key: number): MakeEdit {
  return onPattern(where, ({ pattern, path }) => {
    if (pattern.pads.some((pad) => pad.key === key)) return undefined
    return {
      label: `Pad ${noteName(key)} of ${pattern.name} added`,
      changes: [insert([...path, 'pads', pattern.pads.length], { key, do: 'advance' })],
    }
  })
}

/** The lowest key from there on, around, that no pad of the pattern has. */
export function freeKey(pads: readonly PatternPad[], from: number): number | undefined {
  const taken = new Set(pads.map(({ key }) => key))
  return Array.from({ length: 128 }, (_, step) => (from + step) % 128).find((key) => !taken.has(key))
}

export function removePad(where: PatternPlace, key: number): MakeEdit {
  return onPad(where, key, (_, way, name) => ({ label: `${name} removed`, changes: [remove(way)] }))
}

export function movePad(where: PatternPlace, from: number, to: number): MakeEdit {
  return onPad(where, from, (_, way, name) => ({
    label: `Key of ${name}`,
    changes: [set([...way, 'key'], to)],
  }))
}

/** Another act; one that is about a row or a lamp begins with the first. Nothing where the pattern has no row for it. */
export function setPadAct(where: PatternPlace, key: number, act: PadAct): MakeEdit {
  return onPad(where, key, (pad, way, name, { pattern }) => {
    if (pad.do === act) return undefined
    const [row] = pattern.rows
    const label = `What ${name} does`
    if (act !== 'mute-row' && act !== 'note') return { label, changes: [set(way, { key, do: act })] }
    if (!row) return undefined
    const next =
      act === 'mute-row' ? { key, do: act, row: row.id } : { key, do: act, lamp: row.lamp, note: 60 }
    return { label, changes: [set(way, next)] }
  })
}

/** Undefined takes the duty away. */
export function setPadField(
  where: PatternPlace,
  key: number,
  field: 'row' | 'lamp' | 'note' | 'duty',
  value: string | number | undefined,
): MakeEdit {
  return onPad(where, key, (_, way, name) => ({
    label: `${field} of ${name}`,
    changes: [value === undefined ? remove([...way, field]) : set([...way, field], value)],
  }))
}

function onPad(
  where: PatternPlace,
  key: number,
  make: (
    pad: PatternPad,
    way: readonly (string | number)[],
    name: string,
    found: FoundPattern,
  ) => ReturnType<MakeEdit>,
): MakeEdit {
  return onPattern(where, (found) => {
    const { pattern, path } = found
    const place = pattern.pads.findIndex((pad) => pad.key === key)
    const pad = pattern.pads[place]
    return pad && make(pad, [...path, 'pads', place], `pad ${noteName(key)} of ${pattern.name}`, found)
  })
}
