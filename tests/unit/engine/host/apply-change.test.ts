import { expect, test } from 'vitest'
import { applyChanges } from '../../../../app/engine/host/apply-change.ts'
import type { ShowChange } from '../../../../src/contract/to-host.ts'
import { deepFreeze } from '../../../support/deep-freeze.ts'

const ROOT = deepFreeze({
  title: 'A',
  songs: [
    { id: 'one', tempo: 90 },
    { id: 'two', tempo: 100 },
  ],
})

function done(...changes: ShowChange[]): unknown {
  const applied = applyChanges(ROOT, changes)
  return applied.ok ? applied.value : `${applied.fault.path}: ${applied.fault.message}`
}

test('set replaces what stands there, or adds a field', () => {
  expect(done({ do: 'set', path: ['songs', 1, 'tempo'], value: 60 })).toEqual({
    title: 'A',
    songs: [
      { id: 'one', tempo: 90 },
      { id: 'two', tempo: 60 },
    ],
  })
  expect(done({ do: 'set', path: ['songs', 0, 'beats'], value: 3 })).toMatchObject({
    songs: [{ id: 'one', tempo: 90, beats: 3 }, { id: 'two' }],
  })
})

test('insert puts before a place, or at the end; remove takes out an entry or a field', () => {
  expect(done({ do: 'insert', path: ['songs', 0], value: { id: 'zero' } })).toMatchObject({
    songs: [{ id: 'zero' }, { id: 'one' }, { id: 'two' }],
  })
  expect(done({ do: 'insert', path: ['songs', 2], value: { id: 'three' } })).toMatchObject({
    songs: [{ id: 'one' }, { id: 'two' }, { id: 'three' }],
  })
  expect(done({ do: 'remove', path: ['songs', 0] })).toEqual({
    title: 'A',
    songs: [{ id: 'two', tempo: 100 }],
  })
  expect(done({ do: 'remove', path: ['title'] })).toEqual({ songs: ROOT.songs })
})

test('each change is done to what the one before it left', () => {
  expect(
    done(
      { do: 'remove', path: ['songs', 0] },
      { do: 'set', path: ['songs', 0, 'tempo'], value: 1 },
      { do: 'insert', path: ['songs', 1], value: { id: 'new' } },
    ),
  ).toEqual({ title: 'A', songs: [{ id: 'two', tempo: 1 }, { id: 'new' }] })
})

test('what no change touched is shared', () => {
  const applied = applyChanges(ROOT, [{ do: 'set', path: ['songs', 1, 'tempo'], value: 60 }])
  expect(applied.ok && (applied.value as typeof ROOT).songs[0]).toBe(ROOT.songs[0])
})

test.each<[ShowChange, string]>([
  [
    { do: 'set', path: ['songs', 2], value: 1 },
    '$.songs[2]: $.songs has 2 entries, 0 to 1; to add one, insert it',
  ],
  [{ do: 'insert', path: ['songs', 3], value: 1 }, '$.songs[3]: $.songs has 2 entries, 0 to 1'],
  [{ do: 'remove', path: ['songs', 2] }, '$.songs[2]: $.songs has 2 entries, 0 to 1'],
  [{ do: 'set', path: ['songs', 5, 'tempo'], value: 1 }, '$.songs[5].tempo: $.songs has 2 entries, 0 to 1'],
  [
    { do: 'set', path: ['songs', 'one'], value: 1 },
    '$.songs.one: $.songs is a list: its entries have numbers',
  ],
  [{ do: 'set', path: [0], value: 1 }, '$[0]: the show is no list: its fields have names, not numbers'],
  [{ do: 'set', path: ['rig', 'lamps'], value: 1 }, '$.rig.lamps: the show has no field "rig"'],
  [{ do: 'set', path: ['title', 'x'], value: 1 }, '$.title.x: $.title holds nothing that has parts'],
  [
    { do: 'insert', path: ['title'], value: 1 },
    '$.title: the show is no list, so nothing can be inserted; set the field',
  ],
  [{ do: 'remove', path: ['subtitle'] }, '$.subtitle: the show has no field "subtitle" to be removed'],
])('%j is refused with what is wrong', (change, words) => {
  expect(done(change)).toBe(words)
})

test('a fault in any change undoes them all', () => {
  expect(done({ do: 'set', path: ['title'], value: 'B' }, { do: 'remove', path: ['nothing'] })).toBe(
    '$.nothing: the show has no field "nothing" to be removed',
  )
  expect(ROOT.title).toBe('A')
})

test.each(['__proto__', 'constructor', 'prototype'])('nobody reaches behind an object by "%s"', (name) => {
  const before = Object.getOwnPropertyNames(Object.prototype)
  expect(done({ do: 'set', path: [name, 'polluted'], value: true })).toBe(
    `$.${name}.polluted: no show has a field "${name}"`,
  )
  expect(done({ do: 'set', path: ['songs', 0, name], value: {} })).toContain(`no show has a field "${name}"`)
  const value = JSON.parse(`{ "id": "x", "${name}": { "polluted": true } }`) as Record<string, never>
  expect(done({ do: 'insert', path: ['songs', 0], value })).toContain('a field that no show has')
  expect(Object.getOwnPropertyNames(Object.prototype)).toEqual(before)
  expect(({} as { polluted?: boolean }).polluted).toBeUndefined()
})

test('a value nested without end is refused, not followed', () => {
  let value: unknown = 0
  for (let depth = 0; depth < 100_000; depth++) value = [value]
  expect(done({ do: 'set', path: ['title'], value: value as never })).toContain('nested more than 32 deep')
})
