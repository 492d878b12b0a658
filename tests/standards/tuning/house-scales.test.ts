import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { Fraction } from 'fraction.js'
import { expect, test } from 'vitest'
import { pitchCents } from '../../../src/domain/scale-pitch.ts'
import { parseScale } from '../../../src/tuning/scale-file.ts'
import { SCALES } from '../../support/demo.ts'

// Each scale of the house is worked out here from what it is called, by the definitions of music theory, and compared with its file.

const cents = (ratio: number): number => 1200 * Math.log2(ratio)
const OCTAVE = cents(2)
const COMMA = cents(81 / 80)

/** Whole numbers over another. */
const over = (under: number, ...numbers: number[]): number[] => numbers.map((one) => cents(one / under))
const from = (first: number, last: number): number[] =>
  Array.from({ length: last - first + 1 }, (_, place) => first + place)

/** A chain of fifths from `low` to `high`, all within an octave, rising, and the octave. */
function fifths(size: number, low: number, high: number): number[] {
  const chain = from(low, high).filter((place) => place !== 0)
  const within = chain.map((place) => place * size - OCTAVE * Math.floor((place * size) / OCTAVE))
  return [...within.sort((a, b) => a - b), OCTAVE]
}

const equal = (steps: number, period = OCTAVE): number[] =>
  from(1, steps).map((step) => (period * step) / steps)

/** All products of powers of 3, 5 and 7 that the scale is said to be made of, by exact fractions. */
const just = (...ratios: [three: number, five: number, seven: number][]): number[] =>
  ratios.map(([three, five, seven]) => {
    let product = new Fraction(1)
    for (const [prime, power] of [
      [3, three],
      [5, five],
      [7, seven],
    ] as const)
      product = product.mul(new Fraction(prime).pow(power) ?? NaN)
    while (product.compare(1) <= 0) product = product.mul(2)
    while (product.compare(2) > 0) product = product.div(2)
    return cents(product.valueOf())
  })

const MADE: Record<string, number[]> = {
  'just-5-limit': just(
    [-1, -1, 0],
    [2, 0, 0],
    [1, -1, 0],
    [0, 1, 0],
    [-1, 0, 0],
    [2, 1, 0],
    [1, 0, 0],
    [0, -1, 0],
    [-1, 1, 0],
    [2, -1, 0],
    [1, 1, 0],
    [0, 0, 0],
  ),
  'just-7-limit': just(
    [1, 1, -1],
    [0, 0, -1],
    [1, -1, 0],
    [0, 1, 0],
    [-1, 0, 0],
    [0, -1, 1],
    [1, 0, 0],
    [0, -1, 0],
    [-1, 1, 0],
    [0, 0, 1],
    [1, 1, 0],
    [0, 0, 0],
  ),
  'pythagorean-fifths': fifths(cents(3 / 2), -5, 6),
  'mean-tone-quarter-comma': fifths(cents(3 / 2) - COMMA / 4, -3, 8),
  'mean-tone-third-comma': fifths(cents(3 / 2) - COMMA / 3, -3, 8),
  'equal-05': equal(5),
  'equal-07': equal(7),
  'equal-19': equal(19),
  'equal-22': equal(22),
  'equal-31': equal(31),
  'harmonics-08-16': over(8, ...from(9, 16)),
  'harmonics-16-32': over(16, ...from(17, 32)),
  'harmonics-01-16': over(1, ...from(2, 16)),
  'harmonics-five': over(8, 9, 10, 12, 14, 16),
  'subharmonics-16-08': from(8, 15)
    .map((under) => cents(16 / under))
    .reverse(),
  'twelfth-in-13': equal(13, cents(3)),
  'thirds-stacked': [cents(5 / 4), cents(5 / 4) + cents(6 / 5)],
}

test('every scale of the house is in this list, and the other way round', () => {
  expect(readdirSync(SCALES).sort()).toEqual(
    Object.keys(MADE)
      .map((id) => `${id}.scl`)
      .sort(),
  )
})

test.each(Object.entries(MADE))(
  '%s has its pitches to a millionth of a cent, and says what it is good for',
  (id, made) => {
    const text = readFileSync(join(SCALES, `${id}.scl`), 'utf8')
    const read = parseScale({ name: `${id}.scl`, text })
    if (!read.ok) throw new Error(read.faults.join('\n'))
    const { pitches, name } = read.scale
    expect(pitches).toHaveLength(made.length)
    pitches.forEach((pitch, place) =>
      expect(Math.abs(pitchCents(pitch) - (made[place] ?? NaN))).toBeLessThan(1e-6),
    )
    expect(text.startsWith(`! ${id}.scl\n`)).toBe(true)
    expect(name.length).toBeGreaterThan(10)
    expect(read.about).toMatch(/^Good for .{30,}\.$/)
  },
)

test('what the files say in figures is so', () => {
  const said = (id: string): string => readFileSync(join(SCALES, `${id}.scl`), 'utf8')
  const off = (steps: number, ratio: number): string => {
    const step = OCTAVE / steps
    return Math.abs(Math.round(cents(ratio) / step) * step - cents(ratio)).toFixed(1)
  }
  const quarter = cents(3 / 2) - COMMA / 4
  expect(said('pythagorean-fifths')).toContain(
    `${Math.abs(7 * OCTAVE - 12 * cents(3 / 2)).toFixed(1)} cents narrow`,
  )
  expect(said('mean-tone-quarter-comma')).toContain(`${(COMMA / 4).toFixed(1)} cents narrow`)
  expect(said('mean-tone-quarter-comma')).toContain(
    `${(7 * OCTAVE - 11 * quarter - cents(3 / 2)).toFixed(1)} cents wide`,
  )
  expect(said('mean-tone-third-comma')).toContain(`${(COMMA / 3).toFixed(1)} cents narrow`)
  for (const steps of [5, 7, 19, 22, 31]) {
    const step = (OCTAVE / steps).toFixed(1).replace('.0', '')
    const id = `equal-${String(steps).padStart(2, '0')}`
    expect(said(id)).toContain(`one step of ${step} cents`)
  }
  expect(said('equal-19')).toContain('within 0.2 cents of 6/5')
  expect(Number(off(19, 6 / 5))).toBeLessThanOrEqual(0.2)
  expect(said('equal-22')).toContain(
    `within ${off(22, 5 / 4)} cents of 5/4, fifths ${off(22, 3 / 2)} cents wide`,
  )
  expect(said('equal-31')).toContain(`5/4 within ${off(31, 5 / 4)} cents, 7/4 within ${off(31, 7 / 4)}`)
  expect(said('twelfth-in-13')).toContain(`one step of ${(cents(3) / 13).toFixed(1)} cents`)
})
