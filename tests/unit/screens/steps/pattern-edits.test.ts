import { describe, expect, test } from 'vitest'
import { ShowDocument } from '../../../../app/engine/host/show-document.ts'
import type { MakeEdit } from '../../../../app/screens/sheet/edit.ts'
import { stepMove } from '../../../../app/screens/steps/cell-at.ts'
import { chosenPattern, chosenSong, positionOf } from '../../../../app/screens/steps/chosen.ts'
import {
  addPad,
  freeKey,
  movePad,
  removePad,
  setPadAct,
  setPadField,
} from '../../../../app/screens/steps/pad-edits.ts'
import type { Paint } from '../../../../app/screens/steps/paint.ts'
import { isTap, paintedTo } from '../../../../app/screens/steps/paint.ts'
import {
  addPattern,
  copyPattern,
  givePattern,
  newName,
  removePattern,
  setPatternField,
} from '../../../../app/screens/steps/pattern-edits.ts'
import { partsOf } from '../../../../app/screens/steps/pattern-parts.ts'
import {
  addRow,
  lengthen,
  MOST_STEPS,
  moveRow,
  removeRow,
  setRowField,
  setRowLength,
  toggleMuted,
} from '../../../../app/screens/steps/row-edits.ts'
import { changeStep, paintSteps, setStep, setStepField } from '../../../../app/screens/steps/step-edits.ts'
import { stepKey } from '../../../../app/screens/steps/step-keys.ts'
import { positionWords, stepWords } from '../../../../app/screens/steps/step-words.ts'
import type { PatternStep } from '../../../../src/domain/pattern.ts'
import type { Show } from '../../../../src/domain/show.ts'
import { glasshouse } from '../../../support/shows.ts'
import { validShow } from '../../../support/valid-show.ts'

const PART = { player: 'keys', lamps: ['fern', 'moss'] }
const SHOW = validShow(
  glasshouse({
    songs: [
      {
        id: 'tide',
        title: 'Tide table',
        parts: [
          { id: 'grid', ...PART, strategy: { kind: 'steps', pattern: 'five' } },
          { id: 'lead', player: 'keys', lamps: ['reed'], strategy: { kind: 'unison' } },
        ],
        patterns: [
          {
            id: 'five',
            name: 'Five',
            rows: [
              { lamp: 'fern', steps: [60, 0, { note: 64, gate: 1 }, 0, 67] },
              { lamp: 'moss', steps: [48, 0, 0, 0] },
            ],
            pads: [
              { key: 40, do: 'mute-row', row: 'moss' },
              { key: 41, do: 'next-pattern' },
            ],
          },
          { id: 'drip', name: 'Drip', rows: [{ lamp: 'fern', steps: [72] }] },
        ],
      },
    ],
  }),
)
const FIVE = { song: 'tide', pattern: 'five' }
const FERN = { ...FIVE, row: 'fern' }
const MOSS = { ...FIVE, row: 'moss' }

/** The show after the edits, each done and checked by the host's own document. */
function after(...makes: readonly MakeEdit[]): Show {
  const document = new ShowDocument(SHOW, { revision: 0, file: null, isSaved: true })
  for (const make of makes) {
    const edit = make(document.show)
    if (!edit) throw new Error('nothing to edit')
    const { label, changes } = edit
    const done = document.edit({ base: document.revision, label, changes: [...changes] }, 0)
    if (!done.ok) throw new Error(done.faults.map(({ message }) => message).join('; '))
  }
  return document.show
}

const patterns = (show: Show) => show.songs[0]?.patterns ?? []
const rows = (show: Show) => patterns(show)[0]?.rows ?? []
const pads = (show: Show) => patterns(show)[0]?.pads ?? []
const steps = (show: Show): readonly PatternStep[] => rows(show)[0]?.steps ?? []

describe('steps', () => {
  test('are set one at a time, or a stroke of them, and nothing else is touched', () => {
    expect(steps(after(setStep(FERN, 1, { note: 62, accent: true })))[1]).toEqual({ note: 62, accent: true })
    const painted = after(paintSteps(FERN, [1, 2, 3, 9], { note: 50 }))
    expect(steps(painted)).toEqual([{ note: 60 }, { note: 50 }, { note: 50 }, { note: 50 }, { note: 67 }])
    expect(rows(painted)[1]).toEqual(rows(SHOW)[1])
  })

  test('that stand so already, or are not there, are no edit', () => {
    expect(setStep(FERN, 0, { note: 60 })(SHOW)).toBeUndefined()
    expect(setStep(FERN, 5, 0)(SHOW)).toBeUndefined()
    expect(setStep({ ...FIVE, row: 'reed' }, 0, 0)(SHOW)).toBeUndefined()
    expect(setStepField(FERN, 1, 'duty', 0.2)(SHOW)).toBeUndefined()
  })

  test('are changed as they stand when the edit leaves', () => {
    const up = changeStep(FERN, 0, (step) => (step === 0 ? 0 : { ...step, note: step.note + 1 }))
    expect(steps(after(up, up, up))[0]).toEqual({ note: 63 })
  })

  test('have fields that are set and left out again', () => {
    expect(steps(after(setStepField(FERN, 2, 'chance', 0.5)))[2]).toEqual({ note: 64, gate: 1, chance: 0.5 })
    expect(steps(after(setStepField(FERN, 2, 'gate', undefined)))[2]).toEqual({ note: 64 })
  })

  test('by keys: semitones, octaves, a digit for the octave, accent, rest; a rest sounds the last note first', () => {
    const key = (name: string, step: PatternStep) =>
      stepKey({ key: name, ctrlKey: false, metaKey: false, altKey: false }, () => ({ note: 55 }))?.(step)
    const note = { note: 60 }
    expect(['+', '-', 'PageUp', 'PageDown', '6'].map((name) => key(name, note))).toEqual(
      [61, 59, 72, 48, 84].map((one) => ({ note: one })),
    )
    expect(key('a', note)).toEqual({ note: 60, accent: true })
    expect(key('a', { note: 60, accent: true })).toEqual(note)
    expect(key('Delete', note)).toBe(0)
    expect(key('+', 0)).toEqual({ note: 55 })
    expect(key('a', 0)).toBe(0)
    expect(key('x', note)).toBeUndefined()
    // There is no key above 127: G9 stays, also where its octave would be.
    expect(key('PageUp', { note: 127 })).toEqual({ note: 127 })
    expect(stepKey({ key: 'a', ctrlKey: true, metaKey: false, altKey: false }, () => note)).toBeUndefined()
  })

  test('in words', () => {
    expect(stepWords(0)).toBe('rest')
    expect(stepWords({ note: 60, accent: true, gate: 1, duty: 0.3, chance: 0.4 })).toBe(
      'C4, accent, sounds 1 step, duty 30 %, chance 40 %',
    )
    expect([positionWords(0, 5), positionWords(-1, 5), positionWords(undefined, 4)]).toEqual([
      '1 of 5',
      '– of 5',
      '– of 4',
    ])
  })
})

describe('rows', () => {
  test('are made longer by rests and shorter from the end, within what a pattern may have', () => {
    expect(steps(after(setRowLength(FERN, 7))).slice(4)).toEqual([{ note: 67 }, 0, 0])
    expect(steps(after(setRowLength(FERN, 2)))).toEqual([{ note: 60 }, 0])
    expect(steps(after(lengthen(FERN, 1), lengthen(FERN, 1)))).toHaveLength(7)
    expect(setRowLength(FERN, 0)(SHOW)).toBeUndefined()
    expect(setRowLength(FERN, MOST_STEPS + 1)(SHOW)).toBeUndefined()
    expect(steps(after(setRowLength(FERN, MOST_STEPS)))).toHaveLength(MOST_STEPS)
  })

  test('are added under an id of their own, moved, given other lamps, muted, and removed with the pads that mute them', () => {
    expect(rows(after(addRow(FIVE, 'moss', 3)))[2]).toEqual({
      id: 'moss-2',
      lamp: 'moss',
      steps: [0, 0, 0],
      muted: false,
    })
    expect(rows(after(moveRow(MOSS, -1))).map(({ id }) => id)).toEqual(['moss', 'fern'])
    expect(moveRow(MOSS, 1)(SHOW)).toBeUndefined()
    expect(rows(after(setRowField(MOSS, 'lamp', 'fern')))[1]).toMatchObject({ id: 'moss', lamp: 'fern' })
    expect(rows(after(toggleMuted(MOSS)))[1]?.muted).toBe(true)
    expect(rows(after(toggleMuted(MOSS), toggleMuted(MOSS)))[1]?.muted).toBe(false)
    const without = after(removeRow(MOSS))
    expect(rows(without).map(({ id }) => id)).toEqual(['fern'])
    expect(pads(without)).toEqual([{ key: 41, do: 'next-pattern' }])
  })
})

describe('patterns', () => {
  test('are added on lamps of the part that plays patterns, copied, and set', () => {
    const added = patterns(after(addPattern('tide', 'Rain')))[2]
    expect(added).toMatchObject({ id: 'rain', name: 'Rain' })
    expect(added?.rows.map(({ lamp, steps: own }) => [lamp, own.length])).toEqual([
      ['fern', 8],
      ['moss', 8],
    ])
    const copied = patterns(after(copyPattern(FIVE)))
    expect(copied.map(({ name }) => name)).toEqual(['Five', 'Drip', 'Five, copy'])
    expect(copied[2]?.rows).toEqual(copied[0]?.rows)
    expect(patterns(after(setPatternField(FIVE, 'gateMs', 'Length', 40)))[0]?.gateMs).toBe(40)
    expect(newName({ ...SHOW.songs[0]!, patterns: [{ ...patterns(SHOW)[0]!, name: 'New pattern' }] })).toBe(
      'New pattern 2',
    )
  })

  test('that are removed give way to the next one; the last that a part plays stays', () => {
    const one = after(removePattern(FIVE))
    expect(patterns(one).map(({ id }) => id)).toEqual(['drip'])
    expect(one.songs[0]?.parts[0]?.strategy).toMatchObject({ pattern: 'drip' })
    expect(removePattern({ song: 'tide', pattern: 'drip' })(one)).toBeUndefined()
  })

  test('are given to a part with the lamps it lacks', () => {
    const given = after(givePattern(FIVE, 'lead', 'steps')).songs[0]?.parts[1]
    expect(given?.strategy).toMatchObject({ kind: 'steps', pattern: 'five' })
    expect(given?.lamps).toEqual(['reed', 'fern', 'moss'])
    expect(givePattern(FIVE, 'grid', 'steps')(SHOW)).toBeUndefined()
    const other = after(givePattern({ song: 'tide', pattern: 'drip' }, 'grid', 'steps')).songs[0]?.parts[0]
    expect(other?.strategy).toMatchObject({ kind: 'steps', pattern: 'drip' })
  })

  test('know who begins with them and who comes to them by a pad', () => {
    const [song] = SHOW.songs
    const [five, drip] = patterns(SHOW)
    if (!song || !five || !drip) throw new Error('not there')
    expect(partsOf(song, five).beginning.map(({ id }) => id)).toEqual(['grid'])
    expect(partsOf(song, drip)).toMatchObject({ beginning: [], coming: [{ id: 'grid' }] })
  })
})

test('pads are added, moved, told what to do, and removed', () => {
  expect(pads(after(addPad(FIVE, 36)))[2]).toEqual({ key: 36, do: 'advance' })
  expect(addPad(FIVE, 40)(SHOW)).toBeUndefined()
  expect(pads(after(movePad(FIVE, 40, 50)))[0]).toEqual({ key: 50, do: 'mute-row', row: 'moss' })
  expect(pads(after(setPadAct(FIVE, 40, 'note')))[0]).toEqual({ key: 40, do: 'note', lamp: 'fern', note: 60 })
  expect(pads(after(setPadAct(FIVE, 41, 'mute-row')))[1]).toEqual({ key: 41, do: 'mute-row', row: 'fern' })
  expect(pads(after(setPadAct(FIVE, 40, 'stop')))[0]).toEqual({ key: 40, do: 'stop' })
  expect(pads(after(setPadField(FIVE, 40, 'row', 'fern')))[0]).toEqual({
    key: 40,
    do: 'mute-row',
    row: 'fern',
  })
  expect(pads(after(removePad(FIVE, 40)))).toEqual([{ key: 41, do: 'next-pattern' }])
  expect(freeKey(pads(SHOW), 40)).toBe(42)
})

describe('what is shown first', () => {
  const none = { song: undefined, pattern: undefined, playing: undefined, steps: new Map() }
  const at = { part: 'grid', pattern: 'drip', rows: [0], muted: [false] }

  test('is what was asked for, else what runs, else what a part begins with', () => {
    const song = chosenSong(SHOW, none)
    if (!song) throw new Error('no song')
    expect(chosenPattern(song, none)?.id).toBe('five')
    const running = { ...none, playing: 'tide', steps: new Map([['grid', at]]) }
    expect(chosenPattern(song, running)?.id).toBe('drip')
    expect(chosenPattern(song, { ...running, pattern: 'five' })?.id).toBe('five')
    expect(chosenSong(SHOW, { ...none, song: 'gone' })?.id).toBe('tide')
  })

  test('a position is told of the pattern that runs only, and of as many rows as it has', () => {
    const [song] = SHOW.songs
    const [five, drip] = patterns(SHOW)
    if (!song || !five || !drip) throw new Error('not there')
    const running = { ...none, playing: 'tide', steps: new Map([['grid', at]]) }
    expect(positionOf(song, drip, running)).toBe(at)
    expect(positionOf(song, five, running)).toBeUndefined()
    expect(positionOf(song, drip, { ...running, playing: 'ebb' })).toBeUndefined()
    expect(positionOf(song, { ...drip, rows: five.rows }, running)).toBeUndefined()
  })
})

describe('the way about', () => {
  const pattern = { rows: rows(SHOW) }
  const go = (key: string, row: number, column: number, ctrlKey = false) =>
    stepMove({ key, ctrlKey }, { row, column }, pattern)

  test('arrows hold at the edges, and come down from a longer row onto the last step of a shorter one', () => {
    expect(go('ArrowDown', 0, 4)).toEqual({ row: 1, column: 3 })
    expect(go('ArrowLeft', 0, -1)).toEqual({ row: 0, column: -1 })
    // Five steps, and the two that make the row shorter and longer.
    expect(go('ArrowRight', 0, 6)).toEqual({ row: 0, column: 6 })
    expect(go('End', 1, 0)).toEqual({ row: 1, column: 5 })
    expect(go('Home', 1, 2, true)).toEqual({ row: 0, column: -1 })
    expect(go('x', 0, 0)).toBeUndefined()
  })

  test('a stroke takes the steps on its way, and none of another row', () => {
    const begun: Paint = { row: 'fern', from: 1, step: 0, over: [1] }
    expect(isTap(begun)).toBe(true)
    const on = paintedTo(begun, 'fern', 4)
    expect([...on.over].sort()).toEqual([1, 2, 3, 4])
    expect(paintedTo(on, 'moss', 2)).toBe(on)
    const back = paintedTo(on, 'fern', 0)
    expect([...back.over].sort()).toEqual([0, 1, 2, 3, 4])
    expect(isTap(back)).toBe(false)
  })
})
