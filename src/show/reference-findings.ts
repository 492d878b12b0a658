import type { Cursor } from './cursor.ts'
import { field, idsOf, items, textOf } from './cursor.ts'
import { oneOf, quote } from './found.ts'
import { didYouMean } from './near-miss.ts'
import type { Finding } from './show-fault.ts'

/** References that lead nowhere. */
export function referenceFindings(show: Cursor): Finding[] {
  const rig = field(show, 'rig')
  const songs = field(show, 'songs')
  const supply = directory('supply', field(rig, 'supplies'))
  const output = directory('output', field(rig, 'outputs'))
  const lamp = directory('lamp', field(rig, 'lamps'))
  const player = directory('player', field(show, 'players'))
  const tuning = directory('tuning', field(show, 'tunings'))
  const song = directory('song', songs)
  return [
    ...items(field(rig, 'lamps')).flatMap((one) => [
      ...output(field(one, 'output')),
      ...supply(field(one, 'supply')),
    ]),
    ...items(field(show, 'thru')).flatMap((one) => [
      ...player(field(one, 'player')),
      ...output(field(one, 'to')),
      ...onlyMidi(field(one, 'to'), field(rig, 'outputs')),
    ]),
    ...items(field(show, 'tunings')).flatMap((one) => [
      ...player(field(one, 'player')),
      ...tuning(field(one, 'base')),
    ]),
    ...items(songs).flatMap((one) => [
      ...tuning(field(one, 'tuning')),
      ...song(field(one, 'variantOf')),
      ...items(field(one, 'parts')).flatMap((part) => [
        ...player(field(part, 'player')),
        ...items(field(part, 'lamps')).flatMap(lamp),
        ...tuning(field(part, 'tuning')),
      ]),
      ...items(field(one, 'patterns')).flatMap((pattern) =>
        [...items(field(pattern, 'rows')), ...items(field(pattern, 'pads'))].flatMap((it) =>
          lamp(field(it, 'lamp')),
        ),
      ),
    ]),
    ...items(field(show, 'setList')).flatMap(song),
    ...items(field(show, 'switching', 'controls')).flatMap((one) => [
      ...player(field(one, 'player')),
      ...song(field(one, 'do', 'song')),
      ...tuning(field(one, 'do', 'tuning')),
    ]),
  ]
}

/** Checks references to the things of one list. */
function directory(noun: string, list: Cursor): (reference: Cursor) => Finding[] {
  const ids = idsOf(list)
  const known = new Set(ids)
  return (reference) => {
    const id = textOf(reference)
    if (ids === undefined || id === undefined || known.has(id)) return []
    const found = `no ${noun} has the id ${quote(id)}`
    return [{ path: reference.path, found, expected: oneOf(ids), hint: didYouMean(id, ids) }]
  }
}

function onlyMidi(to: Cursor, outputs: Cursor): Finding[] {
  const id = textOf(to)
  const target = items(outputs).find((output) => id !== undefined && field(output, 'id').value === id)
  if (target === undefined || field(target, 'kind').value !== 'serial') return []
  const found = `output ${quote(id)} is serial and has no place for MIDI`
  return [{ path: to.path, found, expected: 'a MIDI output' }]
}
