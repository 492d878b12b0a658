import { expect, test } from 'vitest'
import { strategyWords, nameWords, valueWords } from '../../../../app/screens/sheet/field-words.ts'
import { fieldsOf } from '../../../../app/screens/sheet/form-model.ts'
import { gridMove, orderMove } from '../../../../app/screens/sheet/grid-move.ts'
import { keyOf } from '../../../../app/screens/sheet/key-of.ts'
import { moved } from '../../../../app/screens/sheet/list-order.ts'
import { idFault, newId } from '../../../../app/screens/sheet/new-id.ts'
import { cellWords, claimWords, lampUse, rangeWords } from '../../../../app/screens/sheet/part-words.ts'
import { noteName } from '../../../../app/screens/wording/note-name.ts'
import { strategyForms } from '../../../../app/engine/host/strategy-forms.ts'
import { strategies } from '../../../../src/strategies/registry.ts'
import { ID } from '../../../../src/show/field-values.ts'
import { demoShow } from '../../../support/demo.ts'

const [dew, mist] = demoShow().songs

test('a key is read from its name, its number, and from how it is shown', () => {
  for (let key = 0; key <= 127; key++) {
    expect(keyOf(String(key))).toBe(key)
    expect(keyOf(noteName(key))).toBe(key)
    expect(keyOf(`${noteName(key)} (${key})`)).toBe(key)
  }
  expect(['c4', 'Bb3', 'b♭3', 'E#4', 'Cb4'].map(keyOf)).toEqual([60, 58, 58, 65, 59])
  expect(['', '128', '-1', 'H2', 'C', 'C-2', 'G#9', '6.5'].map(keyOf)).toEqual(Array(8).fill(undefined))
})

test('a new id is one that a show takes, and no other’s', () => {
  for (const title of ['Slow growth', 'Ähren & Öl', '  ', '!?', 'x'.repeat(90)]) {
    const id = newId(title, [])
    expect(id).toMatch(ID)
    expect(id.length).toBeLessThanOrEqual(64)
    const next = newId(title, [id])
    expect(next).not.toBe(id)
    expect(next).toMatch(ID)
    expect(idFault(next, [id])).toBe('')
  }
  expect(idFault('a b', [])).not.toBe('')
  expect(idFault('a', ['a'])).not.toBe('')
})

test('what a cell says of a lamp and a part', () => {
  const [lead, low] = dew?.parts ?? []
  if (!dew || !lead || !low) throw new Error('no parts')
  const said = (lamp: string, part = lead) => cellWords(lamp, part, lampUse(dew, part, lamp))
  expect(said('moss')).toBe('moss, part lead: second of four')
  expect(said('ivy')).toBe('ivy, part lead: not used')
  expect(said('sedge')).toBe('sedge, part lead: fourth of four, low may take it')
  expect(said('sedge', low)).toBe('sedge, part low: first of three, claimed, shared with lead')
  expect(claimWords(low)).toContain('400 ms')
  expect(rangeWords({ ...lead, notes: [36, 60], transpose: -12 })).toBe('keys C2 to C4 (36 to 60), 12 down')
})

test('a strategy in a line says what is not usual', () => {
  const form = strategyForms(strategies).find(({ kind }) => kind === 'travel')
  const arc = mist?.parts[0]
  if (!form || !arc) throw new Error('no travel')
  expect(strategyWords(arc.strategy, fieldsOf(form.options))).toBe(
    'travel: path pendulum, move every 1/4, width 2, overlap 15 ms, priority high',
  )
  expect(strategyWords({ kind: 'travel', width: 1, path: 'forward' }, fieldsOf(form.options))).toBe('travel')
  expect(nameWords('detuneCents')).toEqual({ label: 'detune', unit: 'cents' })
  expect(valueWords({ everyMs: 90 })).toBe('every 90 ms')
})

test('moving in a list keeps every entry', () => {
  expect(moved(['a', 'b', 'c'], 2, 0)).toEqual(['c', 'a', 'b'])
  expect(moved(['a', 'b', 'c'], 0, 2)).toEqual(['b', 'c', 'a'])
  const list = ['a', 'b']
  for (const [from, to] of [
    [0, -1],
    [1, 2],
    [5, 0],
    [1, 1],
  ] as const) {
    expect(moved(list, from, to)).toBe(list)
  }
})

test('keys in the grid', () => {
  const press = (key: string, ctrlKey = false) => gridMove({ key, ctrlKey }, { row: 1, column: 0 }, 3, 4)
  expect(press('ArrowLeft')).toEqual({ row: 1, column: -1 })
  expect(press('ArrowDown')).toEqual({ row: 2, column: 0 })
  expect(press('End')).toEqual({ row: 1, column: 3 })
  expect(press('Home', true)).toEqual({ row: 0, column: -1 })
  expect(press('End', true)).toEqual({ row: 2, column: 3 })
  expect(press('a')).toBeUndefined()
  expect(gridMove({ key: 'ArrowUp', ctrlKey: false }, { row: 0, column: 0 }, 3, 4)).toEqual({
    row: 0,
    column: 0,
  })
  expect(orderMove({ key: 'ArrowLeft', altKey: true })).toBe(-1)
  expect(orderMove({ key: 'ArrowRight', altKey: false })).toBe(0)
})
