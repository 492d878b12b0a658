import type { AnyStrategyRules } from '../domain/strategy-rules.ts'
import type { Cursor } from './cursor.ts'
import { field, idsOf, items, numberOf, textOf } from './cursor.ts'
import { oneOf, quote } from './found.ts'
import { pathText } from './json-path.ts'
import { didYouMean } from './near-miss.ts'
import type { Finding } from './show-fault.ts'

/** Patterns that are named and not there, rows and pads that do not go together, and rows whose lamp their part has not. */
export function patternFindings(show: Cursor, strategies: readonly AnyStrategyRules[]): Finding[] {
  const players = new Set(strategies.flatMap((one) => (one.playsPatterns === true ? [one.kind] : [])))
  const rigLamps = idsOf(field(show, 'rig', 'lamps')) ?? []
  return items(field(show, 'songs')).flatMap((song) => {
    const parts = items(field(song, 'parts')).filter((part) => {
      const kind = textOf(field(part, 'strategy', 'kind'))
      return kind !== undefined && players.has(kind)
    })
    const patterns = field(song, 'patterns')
    return [
      ...parts.flatMap((part) => unknownPattern(field(part, 'strategy'), patterns)),
      ...items(patterns).flatMap((pattern, index) => [
        ...sameRows(field(pattern, 'rows')),
        ...samePads(field(pattern, 'pads')),
        ...unknownRows(pattern),
        ...strangeLamps(
          pattern,
          parts.filter((part) => names(part, pattern, index)),
          rigLamps,
        ),
      ]),
    ]
  })
}

/** Whether a part begins with this pattern; one that names none begins with the song's first. */
function names(part: Cursor, pattern: Cursor, index: number): boolean {
  const named = field(part, 'strategy', 'pattern').value
  return named === undefined ? index === 0 : named === field(pattern, 'id').value
}

function unknownPattern(strategy: Cursor, patterns: Cursor): Finding[] {
  const named = field(strategy, 'pattern')
  const id = textOf(named)
  if (items(patterns).length === 0) {
    if (patterns.value !== undefined && !Array.isArray(patterns.value)) return []
    const path = id === undefined ? strategy.path : named.path
    return [{ path, found: 'the song has no pattern to play', expected: 'one in the "patterns" of the song' }]
  }
  const ids = idsOf(patterns)
  if (id === undefined || ids === undefined || ids.includes(id)) return []
  const found = `no pattern of the song has the id ${quote(id)}`
  return [{ path: named.path, found, expected: oneOf(ids), hint: didYouMean(id, ids) }]
}

/** A row without an id is called like its lamp. */
function rowName(row: Cursor): { readonly text: string | undefined; readonly at: Cursor } {
  const own = field(row, 'id')
  const at = own.value === undefined ? field(row, 'lamp') : own
  return { text: textOf(at), at }
}

function sameRows(rows: Cursor): Finding[] {
  const first = new Map<string, Cursor>()
  return items(rows).flatMap((row) => {
    const { text, at } = rowName(row)
    if (text === undefined) return []
    const key = text.normalize('NFC').toLowerCase()
    const earlier = first.get(key)
    if (earlier === undefined) {
      first.set(key, row)
      return []
    }
    const found = `${pathText(earlier.path)} is called ${quote(text)} already`
    return [{ path: at.path, found, expected: 'an "id" of its own for each row of a lamp' }]
  })
}

function samePads(pads: Cursor): Finding[] {
  const first = new Map<number, Cursor>()
  return items(pads).flatMap((pad) => {
    const key = field(pad, 'key')
    const number = numberOf(key)
    if (number === undefined) return []
    const earlier = first.get(number)
    if (earlier === undefined) {
      first.set(number, pad)
      return []
    }
    const found = `key ${number} is taken by ${pathText(earlier.path)}`
    return [{ path: key.path, found, expected: 'each key once' }]
  })
}

function unknownRows(pattern: Cursor): Finding[] {
  const names = items(field(pattern, 'rows')).map((row) => rowName(row).text)
  const known = names.filter((name) => name !== undefined)
  return items(field(pattern, 'pads')).flatMap((pad) => {
    const row = field(pad, 'row')
    const id = textOf(row)
    if (id === undefined || known.length < names.length || known.length === 0 || known.includes(id)) return []
    const found = `no row of the pattern is called ${quote(id)}`
    return [{ path: row.path, found, expected: oneOf(known), hint: didYouMean(id, known) }]
  })
}

/** Lamps of rows and pads that none of the parts has which begin with the pattern. */
function strangeLamps(pattern: Cursor, parts: readonly Cursor[], rigLamps: readonly string[]): Finding[] {
  const lamps = parts.flatMap((part) => items(field(part, 'lamps')).map(textOf))
  const own = [...new Set(lamps.filter((lamp) => lamp !== undefined))]
  const ids = parts.map((part) => textOf(field(part, 'id')) ?? '')
  if (own.length === 0) return []
  return [...items(field(pattern, 'rows')), ...items(field(pattern, 'pads'))].flatMap((one) => {
    const lamp = field(one, 'lamp')
    const id = textOf(lamp)
    // One that the rig has not either is told with the references.
    if (id === undefined || own.includes(id) || !rigLamps.includes(id)) return []
    const found = `lamp ${quote(id)} is not among the lamps of ${ids.length === 1 ? 'part' : 'parts'} ${ids.join(', ')}`
    return [{ path: lamp.path, found, expected: oneOf(own), hint: didYouMean(id, own) }]
  })
}
