import type { NoteId } from '../../src/domain/ids.ts'
import type { PartEvent } from '../../src/domain/part-event.ts'
import type { Micros } from '../../src/domain/units.ts'
import type { PictureRow, PictureRows } from './picture-rows.ts'

export type PictureChange =
  | Exclude<PartEvent, { kind: 'tempo' }>
  | { readonly kind: 'block' | 'free'; readonly lamp: string }
  | { readonly kind: 'refuse'; readonly lamp: string; readonly on: boolean }
  | { readonly kind: 'tempo'; readonly times: number }

export interface PictureEvent {
  readonly at: Micros
  readonly what: PictureChange
}

/** Within a column: what ends, then who has which lamp, then what begins. */
const ORDER = [
  'all-off',
  'note-off',
  'note-release',
  'note-rekey',
  'refuse',
  'block',
  'free',
  'tempo',
  'note-on',
]

/** What happens in a picture, in order, and the letter of each note. */
export function pictureEvents(
  rows: PictureRows,
  columnMicros: Micros,
): { events: readonly PictureEvent[]; letters: ReadonlyMap<NoteId, string> } {
  const letters = new Map<NoteId, string>()
  const sounding = new Map<PictureRow, NoteId>()
  const events: PictureEvent[] = []
  for (let column = 0; column < rows.columns; column++) {
    const changes = [
      ...rows.others.flatMap((row) => otherChanges(row, column)),
      ...rows.notes.flatMap((row) => noteChanges(row, column, sounding, letters)),
    ]
    changes.sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind))
    events.push(...changes.map((what) => ({ at: column * columnMicros, what })))
  }
  return { events, letters }
}

function noteChanges(
  row: PictureRow,
  column: number,
  sounding: Map<PictureRow, NoteId>,
  letters: Map<NoteId, string>,
): PictureChange[] {
  const cell = row.cells[column] ?? '.'
  const before = row.cells[column - 1] ?? '.'
  const id = sounding.get(row)
  const changes: PictureChange[] = []
  if (cell === '.' || cell === '-') {
    sounding.delete(row)
    return id === undefined ? [] : [{ kind: 'note-off', id }]
  }
  if (cell === '#' || (id === undefined && cell === '=')) {
    if (id !== undefined) changes.push({ kind: 'note-off', id })
    const fresh = letters.size + 1
    if (fresh > 26) throw new Error('picture: more notes than letters')
    letters.set(fresh, String.fromCharCode(96 + fresh))
    sounding.set(row, fresh)
    const note = { id: fresh, key: row.key, channel: 1, velocity: row.velocity }
    return [...changes, { kind: 'note-on', note }]
  }
  if (id === undefined) throw new Error(`picture: '${cell}' on key ${row.key} before it is struck`)
  if (cell === '_') return before === '_' ? [] : [{ kind: 'note-release', id }]
  if (before === '_') throw new Error(`picture: key ${row.key} comes down without a strike; use '#'`)
  if (cell === '=') return []
  return [{ kind: 'note-rekey', id, key: row.key + (cell === '^' ? 12 : -12) }]
}

function otherChanges(row: PictureRow, column: number): PictureChange[] {
  const cell = row.cells[column] ?? '.'
  const on = cell === 'x'
  const wasOn = row.cells[column - 1] === 'x'
  switch (row.kind) {
    case 'all-off':
      return cell === '!' ? [{ kind: 'all-off' }] : []
    case 'tempo':
      return cell === '.' ? [] : [{ kind: 'tempo', times: cell === '2' ? 2 : 0.5 }]
    case 'blocked':
      return on === wasOn ? [] : [{ kind: on ? 'block' : 'free', lamp: row.name }]
    case 'refusing':
      return on === wasOn ? [] : [{ kind: 'refuse', lamp: row.name, on }]
    default:
      return []
  }
}
