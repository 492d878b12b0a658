import { expect, test } from 'vitest'
import { ShowDocument } from '../../../../app/engine/host/show-document.ts'
import type { ShowChange } from '../../../../src/contract/to-host.ts'
import { validShow } from '../../../support/valid-show.ts'
import { glasshouse } from '../../../support/shows.ts'

function open(): ShowDocument {
  return new ShowDocument(validShow(glasshouse()), { revision: 4, file: '/shows/a.json', isSaved: true })
}

const tempo = (value: number): ShowChange => ({ do: 'set', path: ['songs', 0, 'tempo'], value })

/** Edits as a screen that has seen everything does. */
function edit(document: ShowDocument, label: string, changes: ShowChange[], at = 0) {
  return document.edit({ base: document.revision, label, changes }, at)
}

test('an edit is done, counted, and can be undone and redone by its name', () => {
  const document = open()
  const first = document.text
  expect(document.revision).toBe(5)
  expect(edit(document, 'tempo', [tempo(96)])).toEqual({ ok: true, isNew: true })
  expect(document).toMatchObject({ revision: 6, undoLabel: 'tempo', redoLabel: null, isSaved: false })
  expect(document.show.songs[0]?.tempo).toBe(96)
  expect(document.undo()).toBe(true)
  expect(document).toMatchObject({
    revision: 7,
    text: first,
    undoLabel: null,
    redoLabel: 'tempo',
    isSaved: true,
  })
  expect(document.undo()).toBe(false)
  expect(document.redo()).toBe(true)
  expect(document.show.songs[0]?.tempo).toBe(96)
  expect(document.redo()).toBe(false)
})

test('what would be no show is refused with path and words, and changes nothing', () => {
  const document = open()
  const { text, revision } = document
  expect(edit(document, 'tempo', [tempo(5)])).toEqual({
    ok: false,
    faults: [{ path: '$.songs[0].tempo', message: expect.stringMatching(/^found 5; expected .*10/) }],
  })
  expect(edit(document, 'lamp', [{ do: 'remove', path: ['rig', 'lamps', 0] }])).toMatchObject({
    ok: false,
    faults: [
      { path: '$.songs[0].parts[0].lamps[0]', message: expect.stringContaining('no lamp has the id "fern"') },
    ],
  })
  expect(document).toMatchObject({ text, revision, undoLabel: null })
})

test('an id is renamed everywhere in one edit', () => {
  const document = open()
  const changes: ShowChange[] = [
    { do: 'set', path: ['rig', 'lamps', 0, 'id'], value: 'bracken' },
    { do: 'set', path: ['songs', 0, 'parts', 0, 'lamps', 0], value: 'bracken' },
  ]
  expect(edit(document, 'rename', changes)).toMatchObject({ ok: true })
  expect(document.show.songs[0]?.parts[0]?.lamps[0]).toBe('bracken')
})

test('an edit of a show that was changed meanwhile is refused', () => {
  const document = open()
  const base = document.revision
  document.edit({ base, label: 'tempo', changes: [tempo(96)] }, 0)
  const late = document.edit({ base, label: 'tempo', changes: [tempo(97)] }, 0)
  expect(late).toMatchObject({ ok: false, faults: [{ path: '$' }] })
  expect(document.show.songs[0]?.tempo).toBe(96)
})

test('an edit that changes nothing is no step', () => {
  const document = open()
  expect(edit(document, 'tempo', [tempo(120)])).toEqual({ ok: true, isNew: false })
  expect(document).toMatchObject({ revision: 5, undoLabel: null })
})

test('a slider that is dragged is one step; a pause, another place or another name begins a new one', () => {
  const document = open()
  const first = document.text
  for (let step = 0; step < 10; step++) edit(document, 'tempo', [tempo(100 + step)], step * 1_500)
  document.undo()
  expect(document.text).toBe(first)

  edit(document, 'tempo', [tempo(100)], 20_000)
  edit(document, 'tempo', [tempo(101)], 21_501)
  edit(document, 'speed', [tempo(102)], 21_502)
  edit(document, 'speed', [{ do: 'set', path: ['songs', 0, 'beats'], value: 3 }], 21_503)
  const seen: unknown[] = []
  while (document.undo()) seen.push([document.show.songs[0]?.tempo, document.show.songs[0]?.beats])
  expect(seen).toEqual([
    [102, 4],
    [101, 4],
    [100, 4],
    [120, 4],
  ])
})

test('dragged away and back again, nothing was done', () => {
  const document = open()
  edit(document, 'tempo', [tempo(100)], 0)
  edit(document, 'tempo', [tempo(120)], 10)
  expect(document).toMatchObject({ undoLabel: null, isSaved: true })
})

test('an edit after an undo or a save is a step of its own', () => {
  const document = open()
  edit(document, 'tempo', [tempo(100)], 0)
  document.saved('/shows/b.json', document.text)
  edit(document, 'tempo', [tempo(101)], 1)
  expect(document.isSaved).toBe(false)
  document.undo()
  expect(document).toMatchObject({ isSaved: true, file: '/shows/b.json' })
  edit(document, 'tempo', [tempo(102)], 2)
  document.undo()
  expect(document.show.songs[0]?.tempo).toBe(100)
})

test('what was saved is what was written, not what it has become since', () => {
  const document = open()
  edit(document, 'tempo', [tempo(100)])
  const { text } = document
  edit(document, 'title', [{ do: 'set', path: ['title'], value: 'Other' }])
  document.saved('/shows/a.json', text)
  expect(document.isSaved).toBe(false)
  document.undo()
  expect(document.isSaved).toBe(true)
})

test('the last 500 steps can be undone', () => {
  const document = open()
  for (let step = 0; step < 505; step++) edit(document, `step ${step}`, [tempo(200 + step)])
  let undone = 0
  while (document.undo()) undone++
  expect(undone).toBe(500)
  expect(document.show.songs[0]?.tempo).toBe(204)
})
