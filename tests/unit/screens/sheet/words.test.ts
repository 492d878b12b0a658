import { expect, test } from 'vitest'
import { strategyWords, nameWords, valueWords } from '../../../../app/screens/sheet/field-words.ts'
import { fieldsOf } from '../../../../app/screens/sheet/form-model.ts'
import { gridMove, orderMove } from '../../../../app/screens/sheet/grid-move.ts'
import {
  glideWords,
  motionWords,
  pulseCaution,
  rateWords,
  wanderWords,
} from '../../../../app/screens/sheet/motion-words.ts'
import { keyOf } from '../../../../app/screens/sheet/key-of.ts'
import { moved } from '../../../../app/screens/sheet/list-order.ts'
import { idFault, newId } from '../../../../app/screens/sheet/new-id.ts'
import {
  cellWords,
  claimWords,
  dutyWords,
  lampUse,
  rangeWords,
} from '../../../../app/screens/sheet/part-words.ts'
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

test('what a part does with pitch and duty, in a line', () => {
  const [lead] = dew?.parts ?? []
  if (!lead) throw new Error('no part')
  expect(motionWords(lead)).toEqual([])
  expect(
    motionWords({
      ...lead,
      tuning: 'just',
      glide: { ms: 90, when: 'legato' },
      vibrato: { cents: 20, hz: 5.5, delayMs: 300, controller: 1 },
      pulse: { ratio: '3:2', controller: 2 },
    }),
  ).toEqual([
    'tuning just',
    'glides 90 ms between legato notes',
    'vibrato 20 cents at 5.5 Hz, 300 ms after the strike, by controller 1',
    'pulse 3:2 flashes to beats, to pitch by controller 2',
  ])
  expect(glideWords({ centsPerSecond: 2400, when: 'always' })).toBe(
    'glides 2400 cents a second into every note',
  )
  expect(wanderWords({ cents: 8, seconds: 20, seed: 1 })).toBe(
    'lamps drift 8 cents either way, another way every 20 s',
  )
  const duty = { base: 0.5, low: 0.08, high: 0.4 }
  expect(dutyWords({ ...lead, duty: { ...duty, keys: [28, 64] } })).toBe('duty 0.08 to 0.4 by key, E1 to E4')
  expect(dutyWords({ ...lead, duty: { ...duty, sweepSeconds: 30 } })).toBe(
    'duty 0.08 to 0.4 and back in 30 s',
  )
})

test('a pulse is told with its rate at the song’s tempo, and with the band of most concern; never that it is harmless', () => {
  // 97.0625 x 3 / 2 = 145.59375 a minute.
  expect(rateWords((97.0625 * 3) / 2 / 60)).toBe('145.5938 flashes a minute, 2.427 Hz')
  const said = pulseCaution({ ratio: '3:2' }, 97.0625)
  expect(said).toContain('At 97.0625 beats a minute that is 145.5938 flashes a minute, 2.427 Hz.')
  expect(said).toContain('3 to 30 Hz')
  for (const [bpm, isWithin] of [
    [179, false],
    [180, true],
    [1800, true],
  ] as const)
    expect(pulseCaution({ bpm }, 100).includes('can trigger seizures')).toBe(isWithin)
  expect(pulseCaution({ bpm: 60, controller: 1 }, 100)).toContain('goes through that band')
  expect(pulseCaution({ ratio: '999:1' }, 1000)).toContain('up to 60 Hz')
  for (const bpm of [1, 60, 180, 600, 1800])
    expect(pulseCaution({ bpm, controller: 1 }, 100)).not.toMatch(/\bsafe|harmless/)
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
