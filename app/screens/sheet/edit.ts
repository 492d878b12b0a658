import type { ShowChange } from '../../../src/contract/to-host.ts'
import type { Show } from '../../../src/domain/show.ts'

/** What changes in the show, and what undo calls it. */
export interface Edit {
  readonly label: string
  readonly changes: readonly ShowChange[]
}

/** Works an edit out on the show as it stands when the edit leaves; undefined: what was to be changed is not there any more. */
export type MakeEdit = (show: Show) => Edit | undefined

type Way = readonly (string | number)[]
type JsonValue = Extract<ShowChange, { do: 'set' }>['value']

export function set(path: Way, value: unknown): ShowChange {
  return { do: 'set', path: [...path], value: plain(value) }
}

export function insert(path: Way, value: unknown): ShowChange {
  return { do: 'insert', path: [...path], value: plain(value) }
}

export function remove(path: Way): ShowChange {
  return { do: 'remove', path: [...path] }
}

/** As JSON would carry it: fields that are undefined are left out. */
function plain(value: unknown): JsonValue {
  return JSON.parse(JSON.stringify(value)) as JsonValue
}
