import type { Cursor } from './cursor.ts'
import { field, items, textOf } from './cursor.ts'
import { quote } from './found.ts'
import { pathText } from './json-path.ts'
import type { Finding } from './show-fault.ts'

/** Ids that two things of one list share. Capitals make no difference: ids name files, and not every disk tells them apart. */
export function repeatedIds(show: Cursor): Finding[] {
  const rig = field(show, 'rig')
  const songs = field(show, 'songs')
  return [
    field(rig, 'supplies'),
    field(rig, 'outputs'),
    field(rig, 'lamps'),
    field(show, 'players'),
    field(show, 'tunings'),
    songs,
    ...items(songs).flatMap((song) => [field(song, 'parts'), field(song, 'patterns')]),
  ].flatMap(repeatedIn)
}

function repeatedIn(list: Cursor): Finding[] {
  const first = new Map<string, Cursor>()
  return items(list).flatMap((item) => {
    const id = field(item, 'id')
    const text = textOf(id)
    if (text === undefined) return []
    const key = text.normalize('NFC').toLowerCase()
    const earlier = first.get(key)
    if (earlier === undefined) {
      first.set(key, id)
      return []
    }
    const found = `the id ${quote(text)} is taken by ${pathText(earlier.path)}`
    return [{ path: id.path, found, expected: 'an id of its own (capitals make no difference)' }]
  })
}
