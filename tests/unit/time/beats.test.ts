import { describe, expect, test } from 'vitest'
import { beatsToMicros, msToMicros, parseDuration } from '../../../src/time/beats.ts'

describe('note values', () => {
  test.each([
    ['1/1', 4],
    ['1/2', 2],
    ['1/4', 1],
    ['1/8', 0.5],
    ['1/16', 0.25],
    ['3/8', 1.5],
    ['3/16', 0.75],
    ['5/4', 5],
    ['1/12', 1 / 3],
    ['1/9999', 4 / 9999],
  ])('%s is %d beats of a quarter', (text, beats) => {
    expect(parseDuration(text)).toBe(beats)
  })

  test.each([
    '',
    '1',
    '1/0',
    '0/4',
    '1/',
    '/4',
    '-1/4',
    '1/-4',
    '1.5/4',
    '1 / 4',
    ' 1/4',
    '1/4 ',
    '01/4',
    '1/04',
    '1/10000',
    '1/4/4',
    '1/4t',
    '1e1/4',
    'x',
  ])('"%s" is none', (text) => {
    expect(parseDuration(text)).toBeUndefined()
  })
})

describe('beats in microseconds', () => {
  test.each([
    // Computed from the formula: 60,000,000 / tempo a beat.
    [1, 120, 500_000],
    [4, 60, 4_000_000],
    [0.25, 97.0625, 154_539.6007726],
    [1, 97.0625, 618_158.4030908],
    [1, 97.0626, 618_157.766225],
    [1, 97.0624, 618_159.0399578],
    [1, 61.8034, 970_820.375578],
    [1, 10, 6_000_000],
    [1, 1000, 60_000],
  ])('%d at %d bpm', (beats, tempo, micros) => {
    expect(beatsToMicros(beats, tempo)).toBeCloseTo(micros, 6)
  })

  test('a ten-thousandth of a beat a minute is not lost: over an hour it is 3.7 ms', () => {
    const hour = 60 * 97.0625
    expect(beatsToMicros(hour, 97.0625)).toBe(3_600_000_000)
    expect(Math.round(beatsToMicros(hour, 97.0625) - beatsToMicros(hour, 97.0626))).toBe(3_709)
  })

  test('rounding only the sum, an hour of sixteenths never drifts', () => {
    for (const tempo of [97.0625, 61.8034, 133.3333, 90.0001]) {
      const count = Math.floor(60 * tempo * 4)
      const step = beatsToMicros(0.25, tempo)
      let worst = 0
      for (let n = 0; n <= count; n++) {
        // In whole numbers: n x 15,000,000 x 10,000 / (tempo x 10,000).
        const scaled = BigInt(Math.round(tempo * 10_000))
        const exact = (BigInt(n) * 150_000_000_000n * 2n + scaled) / (2n * scaled)
        worst = Math.max(worst, Math.abs(Math.round(n * step) - Number(exact)))
      }
      // Half a microsecond may fall to either side.
      expect(worst).toBeLessThanOrEqual(1)
    }
  })
})

test.each([
  [0, 0],
  [1, 1_000],
  [0.0004, 0],
  [0.0006, 1],
  [33.3333, 33_333],
  [1.0015, 1_002],
  [60_000, 60_000_000],
])('%d ms is %d whole microseconds', (ms, micros) => {
  expect(msToMicros(ms)).toBe(micros)
})
