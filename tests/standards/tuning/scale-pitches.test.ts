import { Fraction } from 'fraction.js'
import { Midi } from 'tonal'
import { expect, test } from 'vitest'
import { centsBetween } from '../../../src/domain/pitch.ts'
import { pitchCents } from '../../../src/domain/scale-pitch.ts'
import type { ScalePitch, ScaleTuning } from '../../../src/domain/tuning-spec.ts'
import { parseScale } from '../../../src/tuning/scale-file.ts'
import { scaleKeyToHz } from '../../../src/tuning/scale.ts'

function scale(scl: string, kbm?: string): ScaleTuning {
  const read = parseScale(
    { name: 'a.scl', text: scl },
    kbm === undefined ? undefined : { name: 'a.kbm', text: kbm },
  )
  if (!read.ok) throw new Error(read.faults.join('\n'))
  return { id: 'read', kind: 'scale', ...read.scale }
}

const hzOf = (tuning: ScaleTuning, key: number): number => scaleKeyToHz(tuning, key) ?? NaN
const list = (...pitches: string[]): string => `\n${pitches.length}\n${pitches.join('\n')}\n`
const TWELVE = list(...Array.from({ length: 12 }, (_, place) => `${(place + 1) * 100}.0`))

// 1200 log2(ratio), the definition of the cent, to six places.
test.each<[ScalePitch, number]>([
  ['3/2', 701.955001],
  ['5/4', 386.313714],
  ['7/4', 968.825906],
  ['81/80', 21.50629],
  ['10/9', 182.403712],
])('%s is %f cents', (pitch, cents) => {
  expect(pitchCents(pitch)).toBeCloseTo(cents, 6)
})

test('the quarter-comma fifth and a thirteenth of 3/1, as a scale file has them', () => {
  const fifths = scale(list('696.578428', '2/1'))
  // Four of them less two octaves are a pure third: 5^(1/4), the definition of quarter-comma mean tone.
  const fifth = hzOf(fifths, 61) / hzOf(fifths, 60)
  expect(1200 * Math.log2(fifth)).toBeCloseTo(696.578428, 6)
  expect(centsBetween(fifth ** 4 / 4, 5 / 4)).toBeCloseTo(0, 5)
  const parts = scale(list(...Array.from({ length: 12 }, (_, place) => `${(place + 1) * 146.304231}`), '3/1'))
  for (let key = 0; key < 127; key++)
    expect(centsBetween(hzOf(parts, key + 1), hzOf(parts, key))).toBeCloseTo(146.304231, 5)
})

test('twelve equal steps in a scale file are as the library tonal has them, on all 128 keys', () => {
  const even = scale(TWELVE)
  const at69 = scale(TWELVE, '0\n0\n127\n60\n69\n440.0\n12\n')
  for (let key = 0; key < 128; key++) {
    expect(Math.abs(centsBetween(hzOf(even, key), Midi.midiToFreq(key)))).toBeLessThan(1e-9)
    expect(Math.abs(centsBetween(hzOf(at69, key), Midi.midiToFreq(key)))).toBeLessThan(1e-9)
  }
})

// Worked out by the published description of keyboard mappings: entry e of repetition r sounds degree e + r x formal octave.
test('three keys of a pattern over twelve equal steps that repeats after five of them', () => {
  const five = scale(TWELVE, '3\n0\n127\n60\n60\n256.0\n5\n0\n2\n3\n')
  const printed: [number, number][] = [
    [57, 191.783],
    [58, 215.269],
    [59, 228.07],
    [60, 256],
    [61, 287.35],
    [62, 304.437],
    [63, 341.719],
    [64, 383.567],
    [66, 456.14],
  ]
  for (const [key, hz] of printed) expect(hzOf(five, key).toFixed(3)).toBe(hz.toFixed(3))
  for (let key = 0; key < 128; key++) {
    const repetition = Math.floor((key - 60) / 3)
    const step = [0, 2, 3][key - 60 - 3 * repetition] ?? NaN
    const byFormula = 256 * 2 ** ((step + 5 * repetition) / 12)
    expect(Math.abs(centsBetween(hzOf(five, key), byFormula))).toBeLessThan(0.001)
  }
})

test('just intervals multiply as exact fractions do (fraction.js), on every key', () => {
  const ratios = ['16/15', '9/8', '6/5', '5/4', '4/3', '45/32', '3/2', '8/5', '5/3', '7/4', '15/8', '3']
  const just = scale(list(...ratios), '7\n0\n127\n57\n64\n330.0\n5\n0\n2\n-1\n4\n13\n7\n24\n')
  const degrees = [0, 2, -1, 4, 13, 7, 24]
  const ofDegree = (degree: number): Fraction => {
    const octave = Math.floor(degree / 12)
    const within = degree - 12 * octave
    return new Fraction(within === 0 ? 1 : (ratios[within - 1] ?? NaN)).mul(
      new Fraction(3).pow(octave) ?? NaN,
    )
  }
  const ofKey = (key: number): Fraction => {
    const repetition = Math.floor((key - 57) / 7)
    const degree = degrees[key - 57 - 7 * repetition] ?? NaN
    return ofDegree(degree).mul(ofDegree(5).pow(repetition) ?? NaN)
  }
  for (let key = 0; key < 128; key++) {
    const exact = ofKey(key).div(ofKey(64)).mul(330).valueOf()
    expect(Math.abs(centsBetween(hzOf(just, key), exact))).toBeLessThan(1e-8)
  }
})
