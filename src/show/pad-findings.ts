import type { Cursor } from './cursor.ts'
import { field, items, numberOf } from './cursor.ts'
import { pathText } from './json-path.ts'
import type { Finding } from './show-fault.ts'

/** What does not go together in pads: keys listed twice, curves that fall. */
export function padFindings(show: Cursor): Finding[] {
  return items(field(show, 'players')).flatMap((player) => {
    const pads = items(field(player, 'pads'))
    return [
      ...fallen(field(player, 'curve')),
      ...repeated(pads),
      ...pads.flatMap((pad) => fallen(field(pad, 'curve'))),
    ]
  })
}

function repeated(pads: readonly Cursor[]): Finding[] {
  const first = new Map<number, Cursor>()
  return pads.flatMap((pad) => {
    const key = field(pad, 'key')
    const number = numberOf(key)
    if (number === undefined) return []
    const earlier = first.get(number)
    if (earlier === undefined) {
      first.set(number, key)
      return []
    }
    return [
      {
        path: key.path,
        found: `key ${number} is that of ${pathText(earlier.path)}`,
        expected: 'a key of its own',
      },
    ]
  })
}

function fallen(curve: Cursor): Finding[] {
  return items(curve).flatMap((point, index, all) => {
    const before = all[index - 1]
    if (before === undefined) return []
    return [
      ...wrongStep(before, point, 0, 'struck', 'more than'),
      ...wrongStep(before, point, 1, 'taken', 'at least'),
    ]
  })
}

function wrongStep(
  before: Cursor,
  point: Cursor,
  side: 0 | 1,
  word: string,
  relation: 'more than' | 'at least',
): Finding[] {
  const last = items(before)[side]
  const here = items(point)[side]
  const from = last && numberOf(last)
  const to = here && numberOf(here)
  if (!here || from === undefined || to === undefined) return []
  if (relation === 'more than' ? to > from : to >= from) return []
  const expected = `${relation} ${from}, the velocity ${word} of the point before: a curve does not fall`
  return [{ path: here.path, found: `found ${to}`, expected }]
}
