import { expect, test } from 'vitest'
import { centsBetween, midiKeyToHz } from '../../../src/domain/pitch.ts'
import { quantise } from '../../../src/tuning/quantise.ts'
import { midiOutput, WIRE } from '../../support/rig-outputs.ts'

test('a serial output quantises to its timer', () => {
  expect(quantise(440, WIRE, 3)?.drive).toEqual({
    kind: 'timer',
    rate: 440 * 65536,
    prescaler: 1,
    top: 36363,
  })
})

test.each(['channel-per-lamp', 'mpe'] as const)('%s: key and bend', (layout) => {
  expect(quantise(440, midiOutput({ layout }), 3)?.drive).toEqual({ kind: 'bend', key: 69, bend: 8192 })
})

test('a sounding key is kept where the bend reaches it', () => {
  const output = midiOutput({ bendRange: 2 })
  expect(quantise(midiKeyToHz(70), output, 0, 69)?.drive).toEqual({ kind: 'bend', key: 69, bend: 12288 })
  expect(quantise(midiKeyToHz(75), output, 0, 69)?.drive).toEqual({ kind: 'bend', key: 75, bend: 8192 })
})

test('note-per-lamp: the lamp is its key, and the cents say how far off that is', () => {
  const quantised = quantise(440, midiOutput({ layout: 'note-per-lamp', firstNote: 60 }), 7)
  expect(quantised?.drive).toEqual({ kind: 'bend', key: 67, bend: 8192 })
  expect(quantised?.realHz).toBe(midiKeyToHz(67))
  expect(quantised?.cents).toBeCloseTo(-200, 9)
  expect(quantise(440, midiOutput({ layout: 'note-per-lamp', firstNote: 125 }), 3)).toBeUndefined()
})

test('cents is realHz against hz', () => {
  const quantised = quantise(1234.5, WIRE, 0)
  expect(quantised?.cents).toBe(centsBetween(quantised?.realHz ?? 0, 1234.5))
})
