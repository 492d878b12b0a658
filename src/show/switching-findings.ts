import type { Cursor } from './cursor.ts'
import { field, items, numberOf, textOf } from './cursor.ts'
import { quote } from './found.ts'
import type { Finding } from './show-fault.ts'

/** Controls that lead nowhere or contradict each other, and variants that are none. */
export function switchingFindings(show: Cursor): Finding[] {
  const controls = items(field(show, 'switching', 'controls'))
  return [
    ...controls.flatMap((control) => [...numberless(control), ...placeless(control, show)]),
    ...doubled(controls),
    ...variantFindings(items(field(show, 'songs'))),
  ]
}

/** Only a program change that may be any carries a number. */
function numberless(control: Cursor): Finding[] {
  const act = field(control, 'do')
  if (act.value !== 'number') return []
  const on = field(control, 'on')
  if (field(on, 'kind').value === 'program' && field(on, 'program').value === undefined) return []
  const expected = 'a gesture { "kind": "program" } without "program", whose number is the place'
  return [{ path: act.path, found: 'found "number"', expected }]
}

function placeless(control: Cursor, show: Cursor): Finding[] {
  const place = field(control, 'do', 'place')
  const number = numberOf(place)
  const length = placesOf(show)
  if (number === undefined || number <= length) return []
  return [
    {
      path: place.path,
      found: `found place ${number}`,
      expected: `1 to ${length}, the places of the set list`,
    },
  ]
}

/** How many places the set list has; left out, it has every song that is no variant. */
function placesOf(show: Cursor): number {
  const list = field(show, 'setList')
  if (list.value !== undefined) return items(list).length
  return items(field(show, 'songs')).filter((song) => field(song, 'variantOf').value === undefined).length
}

/** The same thing done twice would change songs twice. */
function doubled(controls: readonly Cursor[]): Finding[] {
  const seen = new Set<string>()
  return controls.flatMap((control) => {
    const on = field(control, 'on')
    const player = textOf(field(control, 'player'))
    const what = ['kind', 'program', 'controller', 'key', 'channel'].map((name) => field(on, name).value)
    const key = JSON.stringify([player, ...what])
    if (player === undefined || !seen.has(key)) {
      seen.add(key)
      return []
    }
    return [
      { path: on.path, found: 'another control has the same gesture', expected: 'a gesture of its own' },
    ]
  })
}

function variantFindings(songs: readonly Cursor[]): Finding[] {
  const byId = new Map(songs.map((song) => [textOf(field(song, 'id')), song]))
  return songs.flatMap((song) => {
    const of = field(song, 'variantOf')
    const id = textOf(of)
    const other = id === undefined ? undefined : byId.get(id)
    if (id === undefined || other === undefined) return []
    const expected = 'another song, which is no variant itself'
    if (other === song) return [{ path: of.path, found: 'a song is no variant of itself', expected }]
    if (field(other, 'variantOf').value === undefined) return []
    return [{ path: of.path, found: `song ${quote(id)} is a variant itself`, expected }]
  })
}
