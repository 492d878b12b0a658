import type { PatternRow } from '../../../src/domain/pattern.ts'
import type { MakeEdit } from '../sheet/edit.ts'
import { insert, remove, set } from '../sheet/edit.ts'
import { newId } from '../sheet/new-id.ts'
import type { PatternPlace, RowPlace } from './pattern-place.ts'
import { onPattern, onRow, rowName } from './pattern-place.ts'

/** As the show's schema has them. */
export const MOST_STEPS = 256
export const MOST_ROWS = 128

/** A row of rests, last of the pattern. */
export function addRow(where: PatternPlace, lamp: string, length: number): MakeEdit {
  return onPattern(where, ({ show, pattern, path }) => {
    const { rows } = pattern
    if (rows.length >= MOST_ROWS) return undefined
    const row = { id: nextRowId(rows, lamp), lamp, steps: Array.from({ length }, () => 0), muted: false }
    return {
      label: `Row ${rowName(show, row)} added to ${pattern.name}`,
      changes: [insert([...path, 'rows', rows.length], row)],
    }
  })
}

/** The first row of a lamp is called like it. */
export function nextRowId(rows: readonly Pick<PatternRow, 'id'>[], lamp: string): string {
  const taken = rows.map(({ id }) => id)
  return taken.some((id) => id.toLowerCase() === lamp.toLowerCase()) ? newId(lamp, taken) : lamp
}

/** Takes the row away, and the pads that mute it. */
export function removeRow(where: RowPlace): MakeEdit {
  return onRow(where, ({ pattern, path, rowPath, row, name }) => {
    const pads = pattern.pads.flatMap((pad, place) => ('row' in pad && pad.row === row.id ? [place] : []))
    return {
      label: `Row ${name} removed`,
      changes: [remove(rowPath), ...pads.toReversed().map((place) => remove([...path, 'pads', place]))],
    }
  })
}

/** Longer by rests, or shorter from its end. Out of range: nothing. */
export function setRowLength(where: RowPlace, length: number): MakeEdit {
  return onRow(where, ({ row, rowPath, name }) => {
    const { steps } = row
    if (length < 1 || length > MOST_STEPS || length === steps.length) return undefined
    const label = `Length of ${name}: ${length}`
    const way = [...rowPath, 'steps']
    if (length > steps.length) {
      const more = Array.from({ length: length - steps.length }, (_, at) =>
        insert([...way, steps.length + at], 0),
      )
      return { label, changes: more }
    }
    const fewer = Array.from({ length: steps.length - length }, (_, at) =>
      remove([...way, steps.length - 1 - at]),
    )
    return { label, changes: fewer }
  })
}

/** One step longer or shorter than it is when the edit leaves. */
export function lengthen(where: RowPlace, by: 1 | -1): MakeEdit {
  return (show) => onRow(where, ({ row }) => setRowLength(where, row.steps.length + by)(show))(show)
}

/** `swing`: undefined is the pattern's. */
export function setRowField(
  where: RowPlace,
  field: 'lamp' | 'muted' | 'swing',
  value: string | boolean | number | undefined,
): MakeEdit {
  return onRow(where, ({ row, rowPath, name }) => {
    if (row[field] === value) return undefined
    const way = [...rowPath, field]
    const label = field === 'muted' ? `${name} ${value === true ? 'muted' : 'sounds'}` : `${field} of ${name}`
    return { label, changes: [value === undefined ? remove(way) : set(way, value)] }
  })
}

/** The row changes its mute, whatever it is when the edit leaves. */
export function toggleMuted(where: RowPlace): MakeEdit {
  return (show) => onRow(where, ({ row }) => setRowField(where, 'muted', !row.muted)(show))(show)
}

/** -1: one place up. Rows keep their count and what they sound. */
export function moveRow(where: RowPlace, by: 1 | -1): MakeEdit {
  return onRow(where, ({ pattern, path, rowPlace, rowPath, row, name }) => {
    const to = rowPlace + by
    if (!(to in pattern.rows)) return undefined
    return { label: `Place of ${name}`, changes: [remove(rowPath), insert([...path, 'rows', to], row)] }
  })
}
