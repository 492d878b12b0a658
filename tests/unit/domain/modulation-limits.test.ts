import { expect, test } from 'vitest'
import {
  endOfLine,
  MODULATION_LINES,
  modulationFormula,
  modulationLimit,
  modulationPercent,
} from '../../../src/domain/modulation-limits.ts'

const [ONE, TWO] = MODULATION_LINES

// IEEE Std 1789-2015, recommended practices 1 and 2, cited second-hand; percents worked out by hand from the formulas.
test.each([
  [10, 0.25, 0.1],
  [60, 1.5, 0.6],
  [89.9, 2.2475, 0.899],
  [90, 7.2, 2.997],
  // Lamps on mains of 60 Hz: about 10 % and 4 %, as the standard is usually quoted (from memory).
  [120, 9.6, 3.996],
  [1000, 80, 33.3],
  [1250, 100, 41.625],
  [1250.1, undefined, 41.628_33],
  [3000, undefined, 99.9],
  [3000.1, undefined, undefined],
  [25_000, undefined, undefined],
])('at %d Hz the practices allow %s and %s percent', (hz, one, two) => {
  const limits = [ONE, TWO].map((line) => modulationLimit(line, hz))
  expect(limits.map((limit) => limit && Number(limit.toFixed(6)))).toEqual([one, two])
})

test('light that is switched is 100 % at any rate, and meets the lines where they end', () => {
  expect(modulationPercent(1, 0)).toBe(100)
  expect(MODULATION_LINES.map(endOfLine)).toEqual([1250, 3000])
  for (const line of MODULATION_LINES) {
    for (const hz of [1, 41.2, 440, 1249]) expect(modulationLimit(line, hz)!).toBeLessThan(100)
    expect(modulationLimit(line, endOfLine(line))!).toBeCloseTo(100, 0)
  }
})

// (most - least) / (most + least), as Michelson gave it for contrast (1927, second-hand).
test('percent modulation of light between two levels', () => {
  expect(modulationPercent(3, 1)).toBe(50)
  expect(modulationPercent(7, 7)).toBe(0)
  expect(() => modulationPercent(1, 2)).toThrow(RangeError)
  expect(() => modulationPercent(0, 0)).toThrow('got 0 and 0')
})

test('a line says its formula', () => {
  expect(modulationFormula(ONE)).toBe('0.025 × f % under 90 Hz, 0.08 × f % from 90 to 1250 Hz')
  expect(modulationFormula(TWO)).toBe('0.01 × f % under 90 Hz, 0.0333 × f % from 90 to 3000 Hz')
})

test.each([0, -1, Infinity, Number.NaN])('%d Hz is no rate', (hz) => {
  expect(() => modulationLimit(ONE, hz)).toThrow('the rate must be over 0 Hz')
})
