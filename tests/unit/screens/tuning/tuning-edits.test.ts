import { expect, test } from 'vitest'
import type { MakeEdit } from '../../../../app/screens/sheet/edit.ts'
import {
  addTuning,
  removeTuning,
  renameTuning,
  setSongTuning,
  setTuningField,
  whyKept,
} from '../../../../app/screens/tuning/tuning-edits.ts'
import { applyChanges } from '../../../../app/engine/host/apply-change.ts'
import type { Show } from '../../../../src/domain/show.ts'
import { formatShow } from '../../../../src/show/write-show.ts'
import { demoShow } from '../../../support/demo.ts'
import { validShow } from '../../../support/valid-show.ts'

/** The show after the edit, read as a file again: an edit that leaves no show throws. */
function edited(make: MakeEdit, show: Show = demoShow()): { show: Show; label: string } {
  const edit = make(show)
  if (!edit) throw new Error('nothing to edit')
  const applied = applyChanges(show, edit.changes)
  if (!applied.ok) throw new Error(applied.fault.message)
  return { show: validShow(JSON.parse(formatShow(applied.value as Show))), label: edit.label }
}

test('a field of a tuning', () => {
  const { show, label } = edited(setTuningField('nineteen', 'steps', 31))
  expect(show.tunings[2]).toMatchObject({ id: 'nineteen', steps: 31, periodCents: 1200 })
  expect(label).toBe('steps of tuning nineteen')
})

test('a new name goes into the songs that use it', () => {
  const { show } = edited(renameTuning('even', 'plain'))
  expect(show.tunings[0]?.id).toBe('plain')
  expect(show.songs.map(({ tuning }) => tuning)).toEqual(['plain', 'twelfth', 'nineteen', 'nineteen'])
})

test('added ones have names of their own', () => {
  const once = edited(addTuning()).show
  const twice = edited(addTuning(), once).show
  expect(twice.tunings.slice(3).map(({ id }) => id)).toEqual(['tuning', 'tuning-2'])
  expect(twice.tunings[3]).toMatchObject({ kind: 'equal', steps: 12, refNote: 69, refHz: 440 })
})

test('a tuning goes once no song is in it', () => {
  const show = demoShow()
  expect(whyKept(show, 'even')).toBe('in use by Dew on the panes')
  const moved = edited(setSongTuning('dew', 'twelfth')).show
  expect(whyKept(moved, 'even')).toBe('')
  const without = edited(removeTuning('even'), moved).show
  expect(without.tunings.map(({ id }) => id)).toEqual(['twelfth', 'nineteen'])
  const [only] = show.tunings
  expect(whyKept({ ...show, songs: [], tunings: only ? [only] : [] }, 'even')).toBe('the only one')
})

test('what is gone meanwhile makes no edit', () => {
  const show = demoShow()
  for (const make of [
    setTuningField('fog', 'steps', 5),
    renameTuning('fog', 'x'),
    removeTuning('fog'),
    setSongTuning('fog', 'even'),
  ])
    expect(make(show)).toBeUndefined()
})
