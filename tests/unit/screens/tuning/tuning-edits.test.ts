import { expect, test } from 'vitest'
import type { MakeEdit } from '../../../../app/screens/sheet/edit.ts'
import {
  addEqual,
  addReceived,
  addScale,
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
import { scaleKeyToHz } from '../../../../src/tuning/scale.ts'
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
  const once = edited(addEqual()).show
  const twice = edited(addEqual(), once).show
  expect(twice.tunings.slice(3).map(({ id }) => id)).toEqual(['tuning', 'tuning-2'])
  expect(twice.tunings[3]).toMatchObject({ kind: 'equal', steps: 12, refNote: 69, refHz: 440 })
})

test('a scale comes whole with one edit, named after what it is called, and its pitches can be set', () => {
  const scale = {
    name: 'Meadow, seven',
    pitches: ['9/8', 386.314, '3/2', '2'],
    map: { first: 24, last: 96, middle: 60, formalOctave: 4, degrees: [0, 1, null, 2, 3] },
    refNote: 60,
    refHz: 264,
  }
  const { show, label } = edited(addScale(scale))
  expect(label).toBe('add tuning meadow-seven')
  expect(show.tunings[3]).toEqual({ id: 'meadow-seven', kind: 'scale', ...scale })
  const bare = edited(setTuningField('meadow-seven', 'map', undefined), show).show
  expect(bare.tunings[3]).not.toHaveProperty('map')
  const set = edited(setTuningField('meadow-seven', 'pitches', ['5/4', '3/2', '2']), bare).show
  const [made] = set.tunings.slice(3)
  if (made?.kind !== 'scale') throw new Error('no scale')
  // Two keys over middle C is the second degree, 3/2 of 264 Hz.
  expect(scaleKeyToHz(made, 62)).toBeCloseTo(396, 9)
  expect(setTuningField('meadow-seven', 'map', undefined)(set)).toBeUndefined()
})

test('a received one begins as the first tuning that is not', () => {
  const { show } = edited(addReceived())
  expect(show.tunings[3]).toEqual({
    id: 'from-keys',
    kind: 'received',
    player: 'keys',
    program: 0,
    base: 'even',
  })
  const banked = edited(setTuningField('from-keys', 'bank', 5), show).show
  expect(banked.tunings[3]).toMatchObject({ bank: 5 })
  expect(edited(setTuningField('from-keys', 'bank', undefined), banked).show.tunings[3]).not.toHaveProperty(
    'bank',
  )
  const sent = show.tunings.filter(({ kind }) => kind === 'received')
  expect(addReceived()({ ...show, tunings: sent })).toBeUndefined()
})

test('a tuning is kept, and renamed, wherever it is used: songs, parts, controls, received ones', () => {
  const demo = demoShow()
  const [dew, ...others] = demo.songs
  if (!dew) throw new Error('no song')
  const control = {
    player: 'keys',
    on: { kind: 'program', program: 9 },
    do: { tuning: 'extra', retune: true },
  } as const
  const show: Show = {
    ...demo,
    tunings: [
      ...demo.tunings,
      { id: 'extra', kind: 'equal', steps: 7, periodCents: 1200, refNote: 60, refHz: 260 },
      { id: 'sent', kind: 'received', player: 'keys', program: 0, base: 'extra' },
    ],
    songs: [{ ...dew, parts: dew.parts.map((part) => ({ ...part, tuning: 'extra' })) }, ...others],
    switching: { ...demo.switching, controls: [control] },
  }
  expect(whyKept(show, 'extra')).toBe(
    'in use by part lead of Dew on the panes, part low of Dew on the panes, part drips of Dew on the panes, control 1, tuning sent',
  )
  expect(whyKept(show, 'sent')).toBe('')
  const { show: renamed } = edited(renameTuning('extra', 'seven'), show)
  expect(JSON.stringify(renamed)).not.toContain('"extra"')
  expect(renamed.songs[0]?.parts.map(({ tuning }) => tuning)).toEqual(['seven', 'seven', 'seven'])
  expect(renamed.switching.controls[0]?.do).toEqual({ tuning: 'seven', retune: true })
  expect(renamed.tunings[4]).toMatchObject({ id: 'sent', base: 'seven' })
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
