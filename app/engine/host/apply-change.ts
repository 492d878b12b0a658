import type { ShowChange } from '../../../src/contract/to-host.ts'
import { pathText } from '../../../src/show/json-path.ts'

/** Why an edit was not done: where, as `$.songs[0].tempo`, and in words. */
export interface EditFault {
  readonly path: string
  readonly message: string
}

export type Applied =
  { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly fault: EditFault }

type Way = ShowChange['path']

/** These reach behind an object; no show has a field of such a name. */
const BEHIND: ReadonlySet<unknown> = new Set(['__proto__', 'constructor', 'prototype'])
/** No show is half as deep. */
const DEEPEST = 32

/**
 * The JSON value `root` after the changes, each done to what the one before left; `root` itself stays as it is, and shares with the answer what no change
 * touched. All of them, or the fault of the first that cannot be done.
 */
export function applyChanges(root: unknown, changes: readonly ShowChange[]): Applied {
  let value = root
  for (const change of changes) {
    const odd = change.path.find((step) => BEHIND.has(step))
    if (odd !== undefined) return refuse(change.path, `no show has a field "${odd}"`)
    if (change.do !== 'remove' && isOdd(change.value, DEEPEST)) {
      return refuse(
        change.path,
        `the value is nested more than ${DEEPEST} deep, or has a field that no show has`,
      )
    }
    const next = changed(value, change, 0)
    if (!next.ok) return next
    value = next.value
  }
  return { ok: true, value }
}

function refuse(path: Way, message: string): Applied {
  return { ok: false, fault: { path: pathText(path), message } }
}

function isOdd(value: unknown, depth: number): boolean {
  if (typeof value !== 'object' || value === null) return false
  if (depth === 0) return true
  return Object.keys(value).some((name) => BEHIND.has(name) || isOdd(fieldOf(value, name), depth - 1))
}

/** Goes down the way from step `at`, and copies what it passes. */
function changed(value: unknown, change: ShowChange, at: number): Applied {
  const { path } = change
  const step = path[at] as string | number
  const isLast = at === path.length - 1
  if (Array.isArray(value)) {
    if (typeof step === 'string') return refuse(path, `${name(path, at)} is a list: its entries have numbers`)
    if (isLast) return changeList(value, change, step)
    if (step >= value.length) return refuse(path, `${name(path, at)} has ${entries(value)}`)
    const inner = changed(value[step], change, at + 1)
    return inner.ok ? { ok: true, value: value.with(step, inner.value) } : inner
  }
  if (typeof value !== 'object' || value === null) {
    return refuse(path, `${name(path, at)} holds nothing that has parts`)
  }
  if (typeof step === 'number')
    return refuse(path, `${name(path, at)} is no list: its fields have names, not numbers`)
  if (isLast) return changeField(value, change, step)
  if (!Object.hasOwn(value, step)) return refuse(path, `${name(path, at)} has no field "${step}"`)
  const inner = changed(fieldOf(value, step), change, at + 1)
  return inner.ok ? { ok: true, value: { ...value, [step]: inner.value } } : inner
}

function changeList(list: readonly unknown[], change: ShowChange, place: number): Applied {
  const most = change.do === 'insert' ? list.length : list.length - 1
  if (place > most) {
    const hint = change.do === 'set' ? '; to add one, insert it' : ''
    return refuse(change.path, `${name(change.path, change.path.length - 1)} has ${entries(list)}${hint}`)
  }
  switch (change.do) {
    case 'set':
      return { ok: true, value: list.with(place, change.value) }
    case 'insert':
      return { ok: true, value: list.toSpliced(place, 0, change.value) }
    case 'remove':
      return { ok: true, value: list.toSpliced(place, 1) }
  }
}

function changeField(object: object, change: ShowChange, field: string): Applied {
  const whose = name(change.path, change.path.length - 1)
  if (change.do === 'insert')
    return refuse(change.path, `${whose} is no list, so nothing can be inserted; set the field`)
  if (change.do === 'set') return { ok: true, value: { ...object, [field]: change.value } }
  if (!Object.hasOwn(object, field))
    return refuse(change.path, `${whose} has no field "${field}" to be removed`)
  const { [field]: _, ...rest } = object as Record<string, unknown>
  return { ok: true, value: rest }
}

function fieldOf(object: object, field: string): unknown {
  return (object as Record<string, unknown>)[field]
}

/** What stands at the first `length` steps of the way. */
function name(path: Way, length: number): string {
  return length === 0 ? 'the show' : pathText(path.slice(0, length))
}

function entries({ length }: readonly unknown[]): string {
  if (length === 0) return 'no entries'
  return length === 1 ? 'one entry, 0' : `${length} entries, 0 to ${length - 1}`
}
