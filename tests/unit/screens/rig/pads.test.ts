import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ShowDocument } from '../../../../app/engine/host/show-document.ts'
import { FIRST_POINTS, pointsFault, pointsText, readPoints } from '../../../../app/screens/rig/curve-text.ts'
import { areHitsNew, dropLetter, hitsText, stems } from '../../../../app/screens/rig/hit-figures.ts'
import {
  addPad,
  movePad,
  removePad,
  renamePad,
  setCurve,
  setPad,
} from '../../../../app/screens/rig/pad-edits.ts'
import type { MakeEdit } from '../../../../app/screens/sheet/edit.ts'
import type { PadHit, PlayerActivity } from '../../../../src/contract/from-engine.ts'
import type { Show } from '../../../../src/domain/show.ts'
import type { PadsPlayer } from '../../../../src/domain/player.ts'
import { demoShow } from '../../../support/demo.ts'
import { checkProperty } from '../../../support/property.ts'

/** The demo, no pad of it named. */
function bareShow(): Show {
  const show = demoShow()
  const players = show.players.map((player) => (player.kind === 'pads' ? { ...player, pads: [] } : player))
  return { ...show, players }
}

/** The demo's pads after the edits, by the host's own document, which takes no show that is not one. */
function after(...makes: readonly MakeEdit[]): PadsPlayer {
  const document = new ShowDocument(bareShow(), { revision: 0, file: null, isSaved: true })
  for (const make of makes) {
    const edit = make(document.show)
    if (!edit) throw new Error('nothing to edit')
    const { revision: base } = document
    const edited = document.edit({ base, label: edit.label, changes: edit.changes }, 0)
    if (!edited.ok) throw new Error(JSON.stringify(edited.faults))
  }
  const player = document.show.players[1]
  if (player?.kind !== 'pads') throw new Error('no pads')
  return player
}

describe('edits', () => {
  test('a pad is added, named, set and set back, moved to another key, and removed', () => {
    const add = addPad('pads', 38)
    expect(after(add).pads).toEqual([{ key: 38, name: 'Pad 38' }])
    const named = [add, renamePad('pads', 38, 'Snare'), setPad('pads', 38, 'maskMs', 'bounce time', 8)]
    expect(after(...named).pads).toEqual([{ key: 38, name: 'Snare', maskMs: 8 }])
    const back = [...named, setPad('pads', 38, 'maskMs', 'bounce time', null), movePad('pads', 38, 40)]
    expect(after(...back).pads).toEqual([{ key: 40, name: 'Snare' }])
    expect(after(...back, addPad('pads', 36), removePad('pads', 40)).pads).toEqual([
      { key: 36, name: 'Pad 36' },
    ])
    expect(after(setCurve('pads', FIRST_POINTS)).curve).toEqual(FIRST_POINTS)
  })

  test('what is not there is not edited; what is there is not added again', () => {
    const show = bareShow()
    expect(addPad('keys', 38)(show)).toBeUndefined()
    expect(renamePad('pads', 38, 'Snare')(show)).toBeUndefined()
    expect(removePad('pads', 38)(show)).toBeUndefined()
    expect(() => after(addPad('pads', 38), addPad('pads', 38))).toThrow('nothing to edit')
    expect(() => after(addPad('pads', 38), setPad('pads', 38, 'floor', 'floor', null))).toThrow(
      'nothing to edit',
    )
  })
})

describe('points in a line of text', () => {
  test.each([
    [
      '1 20, 64 90,127  127',
      [
        [1, 20],
        [64, 90],
        [127, 127],
      ],
    ],
    [' 64 99 ', [[64, 99]]],
    ['1 20, 1 90', undefined],
    ['1 20, 2 19', undefined],
    ['1 20,', undefined],
    ['1', undefined],
    ['1 2 3', undefined],
    ['0 20', undefined],
    ['1 128', undefined],
    ['1.5 20', undefined],
    ['soft', undefined],
    ['', undefined],
    [Array.from({ length: 17 }, (_, one) => `${one + 1} 1`).join(), undefined],
  ])('%j', (text, points) => {
    expect(readPoints(text)).toEqual(points)
    expect(pointsFault(text) === '').toBe(points !== undefined)
  })

  test('are read as they are written', () => {
    const velocity = fc.integer({ min: 1, max: 127 })
    checkProperty(
      'points in text',
      fc.property(fc.uniqueArray(velocity, { minLength: 1, maxLength: 16 }), velocity, (struck, taken) => {
        const points = struck.toSorted((a, b) => a - b).map((one) => [one, taken] as const)
        expect(readPoints(pointsText(points))).toEqual(points)
      }),
    )
  })
})

const HITS: PadHit[] = [
  { at: 8_000_000, key: 36, velocity: 127 },
  { at: 9_500_000, key: 38, velocity: 64, taken: 90 },
  { at: 9_505_000, key: 38, velocity: 20, dropped: 'mask' },
  { at: 10_000_000, key: 42, velocity: 3, dropped: 'floor' },
]

describe('the picture of hits', () => {
  test('ends at the latest hit and goes back two seconds, stems as high as struck', () => {
    expect(stems(HITS).map(({ along, high }) => [along, high])).toEqual([
      [0, 1],
      [0.75, 64 / 127],
      [0.7525, 20 / 127],
      [1, 3 / 127],
    ])
    expect(stems([])).toEqual([])
  })

  test('is told in words, and each reason has a letter of its own', () => {
    expect(hitsText(HITS)).toBe('four hits in the last two seconds of playing: 2 taken, 1 too soft, 1 bounce')
    expect(hitsText([])).toBe('no hits in the last two seconds of playing: 0 taken')
    expect((['floor', 'mask', 'crosstalk', 'ghost'] as const).map(dropLetter)).toEqual(['T', 'B', 'C', 'G'])
  })

  test('is drawn anew when pads are hit, not when keys are pressed', () => {
    const drops = { floor: 0, mask: 0, crosstalk: 0, ghost: 0 }
    const one = { keys: [], bendCents: 0, heardAt: null, notes: 0, dropped: 0, drops }
    const told = (keys: Partial<PlayerActivity>, pads: Partial<PlayerActivity>) =>
      new Map([
        ['keys', { ...one, player: 'keys', ...keys }],
        ['pads', { ...one, player: 'pads', hits: [], ...pads }],
      ])
    const before = told({}, {})
    expect(areHitsNew(told({ notes: 1, bendCents: 4 }, { heardAt: 5 }), before)).toBe(false)
    expect(areHitsNew(told({}, { notes: 1 }), before)).toBe(true)
    expect(areHitsNew(told({}, { dropped: 1 }), before)).toBe(true)
    expect(areHitsNew(new Map(), before)).toBe(true)
    expect(areHitsNew(before, undefined)).toBe(true)
    const other = new Map([...told({}, {})].map(([id, told_]) => [`${id}-2`, told_]))
    expect(areHitsNew(other, before)).toBe(true)
  })
})
