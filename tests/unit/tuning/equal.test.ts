import { expect, test } from 'vitest'
import type { EqualTuning } from '../../../src/domain/tuning-spec.ts'
import { equalKeyToHz } from '../../../src/tuning/equal.ts'

const EVEN: EqualTuning = { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 }

test('whole octaves of the reference are exact, far outside MIDI too', () => {
  for (let octave = -60; octave <= 60; octave++) {
    expect(equalKeyToHz(EVEN, 69 + 12 * octave)).toBe(440 * 2 ** octave)
  }
})

test('keys an octave apart differ by exactly two, whatever the steps and the reference', () => {
  for (const steps of [5, 7, 12, 19, 31]) {
    const tuning = { ...EVEN, steps, refNote: 33, refHz: 55.3 }
    for (let key = -40; key < 200; key++) {
      expect(equalKeyToHz(tuning, key + steps)).toBe(2 * equalKeyToHz(tuning, key))
    }
  }
})

test('a period of two octaves in 24 steps is the even tuning', () => {
  for (let key = 0; key < 128; key++) {
    const wide = equalKeyToHz({ ...EVEN, steps: 24, periodCents: 2400 }, key)
    expect(wide).toBe(equalKeyToHz(EVEN, key))
  }
})
