import type { Cursor } from './cursor.ts'
import { field, items, numberOf, textOf } from './cursor.ts'
import { quote } from './found.ts'
import type { Finding } from './show-fault.ts'

/** Tunings in which nothing sounds: a reference key that is not mapped, a base that is received itself. */
export function tuningFindings(show: Cursor): Finding[] {
  const tunings = items(field(show, 'tunings'))
  return tunings.flatMap((tuning) => {
    const kind = field(tuning, 'kind').value
    if (kind === 'received') return receivedBase(tuning, tunings)
    return kind === 'scale' ? unmapped(tuning) : []
  })
}

function receivedBase(tuning: Cursor, tunings: readonly Cursor[]): Finding[] {
  const base = field(tuning, 'base')
  const id = textOf(base)
  const found = tunings.find((one) => id !== undefined && field(one, 'id').value === id)
  if (!found || field(found, 'kind').value !== 'received') return []
  return [
    { path: base.path, found: `tuning ${quote(id ?? '')} is received itself`, expected: 'one that is not' },
  ]
}

/** The reference key gives all others their pitch, so it has to have one. */
function unmapped(tuning: Cursor): Finding[] {
  const map = field(tuning, 'map')
  const reference = field(tuning, 'refNote')
  const key = numberOf(reference)
  if (map.value === undefined || key === undefined) return []
  const [first, last] = [numberOf(field(map, 'first')) ?? 0, numberOf(field(map, 'last')) ?? 127]
  if (first > last) {
    const expected = `at least ${first}, which is "first"`
    return [{ path: field(map, 'last').path, found: `found ${last}`, expected }]
  }
  const expected = 'a key that the map gives a pitch'
  if (key < first || key > last)
    return [{ path: reference.path, found: `key ${key} is outside the map's ${first} to ${last}`, expected }]
  const degrees = items(field(map, 'degrees'))
  if (degrees.length === 0) return []
  const middle = numberOf(field(map, 'middle')) ?? 60
  const place = (((key - middle) % degrees.length) + degrees.length) % degrees.length
  if (degrees[place]?.value !== null) return []
  return [{ path: reference.path, found: `the map leaves key ${key} out`, expected }]
}
