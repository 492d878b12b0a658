import { expect, test } from 'vitest'
import { ShowDocument } from '../../../../app/engine/host/show-document.ts'
import { strategyForms } from '../../../../app/engine/host/strategy-forms.ts'
import type { MakeEdit } from '../../../../app/screens/sheet/edit.ts'
import {
  addPart,
  moveLamp,
  movePart,
  nextPartId,
  orderLamps,
  removePart,
  setPartField,
  setStrategyKind,
  setStrategyOption,
  toggleLamp,
} from '../../../../app/screens/sheet/part-edits.ts'
import {
  addSong,
  duplicateSong,
  keepVariant,
  nextVariant,
  removeSong,
  setSongField,
} from '../../../../app/screens/sheet/song-edits.ts'
import {
  addToSetList,
  moveInSetList,
  removeFromSetList,
} from '../../../../app/screens/songs/set-list-edits.ts'
import type { Show } from '../../../../src/domain/show.ts'
import { strategies } from '../../../../src/strategies/registry.ts'
import { demoShow } from '../../../support/demo.ts'

const FORMS = strategyForms(strategies)
const LEAD = { song: 'dew', part: 'lead' }
const DRIPS = { song: 'dew', part: 'drips' }

/** The show after the edit, by the host's own document, which takes no show that is not one. */
function after(make: MakeEdit, show: Show = demoShow()): Show {
  const edit = make(show)
  if (!edit) throw new Error('nothing to edit')
  const document = new ShowDocument(show, { revision: 0, file: null, isSaved: true })
  const edited = document.edit({ base: 1, label: edit.label, changes: edit.changes }, 0)
  if (!edited.ok) throw new Error(JSON.stringify(edited.faults))
  return document.show
}

function partOf(show: Show, { song, part }: { song: string; part: string }) {
  const found = show.songs.find(({ id }) => id === song)?.parts.find(({ id }) => id === part)
  if (!found) throw new Error(`no part ${part}`)
  return found
}

test('every strategy can be changed to every other', () => {
  for (const song of demoShow().songs) {
    for (const part of song.parts) {
      for (const form of FORMS) {
        const where = { song: song.id, part: part.id }
        const edit = setStrategyKind(where, form)
        expect(edit(demoShow())?.label).toBe(`Strategy of ${part.id} in ${song.title}`)
        const changed = after(edit)
        expect(partOf(changed, where).strategy.kind).toBe(form.kind)
        const { patterns } = changed.songs.find(({ id }) => id === song.id) ?? song
        expect(patterns.length).toBe(song.patterns.length + (form.kind === 'steps' ? 1 : 0))
      }
    }
  }
})

test('a lamp goes on at the end of the order, comes off, and moves', () => {
  expect(partOf(after(toggleLamp(LEAD, 'ivy', FORMS)), LEAD).lamps).toEqual([
    'fern',
    'moss',
    'reed',
    'sedge',
    'ivy',
  ])
  expect(partOf(after(toggleLamp(LEAD, 'moss', FORMS)), LEAD).lamps).toEqual(['fern', 'reed', 'sedge'])
  expect(partOf(after(moveLamp(LEAD, 'moss', -1, FORMS)), LEAD).lamps[0]).toBe('moss')
  expect(moveLamp(LEAD, 'fern', -1, FORMS)(demoShow())).toBeUndefined()
  expect(moveLamp(LEAD, 'sedge', 1, FORMS)(demoShow())).toBeUndefined()
})

test('a chime stays one key a lamp whatever lamps it is given', () => {
  const more = partOf(after(toggleLamp(DRIPS, 'fern', FORMS)), DRIPS)
  expect(more.strategy['notes']).toEqual([60, 62, 66, 70, 71])
  const turned = partOf(after(orderLamps(DRIPS, ['sundew', 'ivy'], FORMS)), DRIPS)
  expect(turned.strategy['notes']).toEqual([70, 60])
})

test('fields of a part: set, and taken away', () => {
  expect(partOf(after(setPartField(LEAD, 'notes', [40, 80])), LEAD).notes).toEqual([40, 80])
  expect(partOf(after(setPartField(LEAD, 'claim', { when: 'always' })), LEAD).claim).toEqual({
    when: 'always',
    releaseMs: 500,
    priority: 0,
  })
  const low = { song: 'dew', part: 'low' }
  expect(partOf(after(setPartField(low, 'claim', undefined)), low).claim).toBeUndefined()
  expect(setPartField(LEAD, 'claim', undefined)(demoShow())).toBeUndefined()
  expect(setStrategyOption(LEAD, 'steal', undefined)(demoShow())?.changes).toEqual([
    { do: 'remove', path: ['songs', 0, 'parts', 0, 'strategy', 'steal'] },
  ])
})

test('parts are added, moved and removed', () => {
  const kind = 'lowest-free'
  const show = after(addPart('dew', kind))
  const id = nextPartId(demoShow().songs[0] ?? { ...demoShow().songs[0]!, parts: [] })
  expect(show.songs[0]?.parts.at(-1)).toMatchObject({ id, strategy: { kind } })
  expect(after(addPart('dew', kind), show).songs[0]?.parts.at(-1)?.id).toBe('part-2')
  expect(after(movePart(LEAD, 1)).songs[0]?.parts.map((part) => part.id)).toEqual(['low', 'lead', 'drips'])
  expect(movePart(LEAD, -1)(demoShow())).toBeUndefined()
  expect(after(removePart(LEAD)).songs[0]?.parts.map((part) => part.id)).toEqual(['low', 'drips'])
})

test('songs are added, doubled, removed, and stay in the set list where they are', () => {
  const added = after(addSong('New song'))
  expect(added.songs.at(-1)).toMatchObject({ id: 'new-song', title: 'New song', parts: [], tuning: 'even' })
  expect(added.setList).toEqual([...demoShow().setList, 'new-song'])
  const twice = after(duplicateSong('dew'))
  expect(twice.songs.map(({ id }) => id)).toEqual([
    'dew',
    'dew-on-the-panes-copy',
    'mist',
    'growth',
    'growth-bare',
  ])
  expect(twice.songs[1]?.parts).toEqual(demoShow().songs[0]?.parts)
  const less = after(removeSong('mist'))
  expect(less.songs.map(({ id }) => id)).toEqual(['dew', 'growth', 'growth-bare'])
  expect(less.setList).toEqual(['dew', 'growth', 'dew'])
  const one = after(removeSong('dew'), after(removeSong('growth-bare'), less))
  expect(removeSong('growth')(one)).toBeUndefined()
})

test('a show whose set list named only the song that goes is left with the others', () => {
  const show = { ...demoShow(), songs: demoShow().songs.slice(0, 3), setList: ['dew'] }
  expect(after(removeSong('dew'), show).setList).toEqual(['mist', 'growth'])
})

test('the set list: order, more than once, never empty', () => {
  expect(after(moveInSetList(0, 1)).setList).toEqual(['mist', 'dew', 'growth', 'dew'])
  expect(moveInSetList(0, -1)(demoShow())).toBeUndefined()
  expect(after(addToSetList('dew')).setList).toEqual(['dew', 'mist', 'growth', 'dew', 'dew'])
  expect(after(removeFromSetList(1)).setList).toEqual(['dew', 'growth', 'dew'])
  expect(removeFromSetList(0)({ ...demoShow(), setList: ['dew'] })).toBeUndefined()
})

test('a variant is a copy in the same place; a copy of a variant is a song of its own', () => {
  const show = after(keepVariant('growth'))
  expect(show.songs.map(({ id }) => id)).toEqual([
    'dew',
    'mist',
    'growth',
    'growth-bare',
    'slow-growth-variant',
  ])
  expect(show.songs[4]).toMatchObject({ title: 'Slow growth, variant', variantOf: 'growth' })
  expect(show.songs[4]?.parts).toEqual(show.songs[2]?.parts)
  expect(show.setList).toEqual(demoShow().setList)
  // A variant of a variant is one more of the same song, under another title.
  const bare = show.songs[3]
  if (!bare) throw new Error('no variant')
  const more = after(keepVariant('growth-bare'), after(keepVariant('growth'), show))
  expect(more.songs.slice(-2)).toMatchObject([
    { title: 'Slow growth, variant 2', variantOf: 'growth' },
    { title: 'Slow growth, no bass, variant', variantOf: 'growth' },
  ])
  expect(nextVariant(more, bare).title).toBe('Slow growth, no bass, variant 2')
  const copied = after(duplicateSong('growth-bare'))
  expect(copied.songs[4]).not.toHaveProperty('variantOf')
  expect(copied.setList.at(-1)).toBe(copied.songs[4]?.id)
})

test('a song that goes leaves its places, variants and controls to its first variant', () => {
  const demo = demoShow()
  const controls = [
    { player: 'pads', on: { kind: 'note', key: 50 }, do: { song: 'growth' } },
    { player: 'pads', on: { kind: 'note', key: 51 }, do: { song: 'mist' } },
    { player: 'pads', on: { kind: 'note', key: 52 }, do: { place: 4 } },
  ] as const
  const show = after(keepVariant('growth'), { ...demo, switching: { ...demo.switching, controls } })
  const less = after(removeSong('growth'), show)
  expect(less.setList).toEqual(['dew', 'mist', 'growth-bare', 'dew'])
  expect(less.songs.map(({ id, variantOf }) => [id, variantOf])).toEqual([
    ['dew', undefined],
    ['mist', undefined],
    ['growth-bare', undefined],
    ['slow-growth-variant', 'growth-bare'],
  ])
  expect(less.switching.controls.map((control) => control.do)).toEqual([
    { song: 'growth-bare' },
    { song: 'mist' },
    { place: 4 },
  ])
  // Without a variant there is nobody to lead to, and one place fewer.
  const least = after(removeSong('mist'), less)
  expect(least.switching.controls.map((control) => control.do)).toEqual([{ song: 'growth-bare' }])
})

test('a control to a place that the set list has no more goes with the place, and undo says so', () => {
  const demo = demoShow()
  const controls = [{ player: 'pads', on: { kind: 'note', key: 52 }, do: { place: 4 } }] as const
  const show = { ...demo, switching: { ...demo.switching, controls } }
  expect(removeFromSetList(1)(show)?.label).toBe('Mist clock off the set list, and controls to place 4')
  expect(after(removeFromSetList(1), show).switching.controls).toEqual([])
  expect(after(moveInSetList(0, 1), show).switching.controls).toEqual(controls)
})

test('what is gone by now is not edited', () => {
  for (const make of [
    toggleLamp({ song: 'dew', part: 'none' }, 'fern', FORMS),
    removePart({ song: 'none', part: 'lead' }),
    setSongField('none', 'title', 'x'),
    addPart('none', 'unison'),
    duplicateSong('none'),
    keepVariant('none'),
    removeFromSetList(9),
  ]) {
    expect(make(demoShow())).toBeUndefined()
  }
})

test('a song’s fields', () => {
  const short = after(setSongField('mist', 'minutes', undefined, 'length'))
  expect(short.songs[1]).not.toHaveProperty('minutes')
  expect(setSongField('mist', 'minutes', undefined)(short)).toBeUndefined()
  const song = after(setSongField('mist', 'tempo', 140.1235)).songs[1]
  expect(song?.tempo).toBe(140.1235)
  expect(setSongField('mist', 'tempo', 140)(demoShow())?.label).toBe('tempo of Mist clock')
})
