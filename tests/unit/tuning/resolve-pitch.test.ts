import { describe, expect, test } from 'vitest'
import { centsBetween } from '../../../src/domain/pitch.ts'
import { lightOrder, litBy, resolvePart, runResolve } from '../../support/resolving.ts'

describe('what is asked of a lamp: tuning, ratio, cents, bend and trim together', () => {
  // 440 x 2^((key - 69)/12), ratio and cents: computed from the formula.
  test.each([
    ['key 69', { key: 69 }, 440],
    ['key 60', { key: 60 }, 261.625565],
    ['a key transposed above 127, folded', { key: 141 }, 3520],
    ['ratio 3/2', { key: 69, ratio: 1.5 }, 660],
    ['up 50 cents', { key: 69, cents: 50 }, 452.892984],
    ['ratio 5/4 up 13.686286 cents', { key: 69, ratio: 1.25, cents: 13.6862861351652 }, 554.365262],
  ])('%s', (_, more, hz) => {
    expect(litBy(runResolve().at(0, lightOrder(0, 1, more))).get(0)?.hz).toBeCloseTo(hz, 5)
  })

  test('bend and trim add their cents', () => {
    const run = runResolve({ trimCents: 7 })
    run.at(0, { kind: 'expression', part: 0, expression: { kind: 'bend', channel: 1, cents: -100 } })
    const lit = litBy(run.at(1, lightOrder(0, 1, { key: 70, cents: 3 }))).get(0)
    expect(centsBetween(lit?.hz ?? 0, 440)).toBeCloseTo(10, 9)
  })

  test('the part’s own tuning: seven equal steps from 220 Hz', () => {
    const tuning = {
      id: 'seven',
      kind: 'equal',
      steps: 7,
      periodCents: 1200,
      refNote: 60,
      refHz: 220,
    } as const
    const run = runResolve({}, undefined, [resolvePart({ tuning })])
    expect(litBy(run.at(0, lightOrder(0, 1, { key: 67 }))).get(0)?.hz).toBe(440)
  })
})

describe('fold', () => {
  test.each([
    [21, 55],
    [108, 2093.004522],
    [69, 440],
  ])('on a lamp from 50 to 3000 Hz key %i sounds %d Hz: the fewest octaves into its range', (key, hz) => {
    const lit = litBy(runResolve({ lowHz: 50, highHz: 3000 }).at(0, lightOrder(0, 1, { key }))).get(0)
    expect(lit?.hz).toBeCloseTo(hz, 5)
    expect(lit?.key).toBe(key)
  })
})

test('no octave within the lamp’s range: refused, and the note is named', () => {
  const run = runResolve({ lowHz: 300, highHz: 400 })
  expect(run.at(0, lightOrder(1, 8, { key: 69 }))).toEqual([
    { kind: 'refused', lamp: 1, part: 0, note: 8, reason: 'range' },
  ])
})

test('within one lot of orders the others are carried out', () => {
  const run = runResolve({ lowHz: 300, highHz: 400 })
  const bad = lightOrder(1, 8, { key: 69 })
  const good = lightOrder(2, 9, { key: 66 })
  const orders = [bad, good].flatMap((one) => (one.kind === 'orders' ? one.orders : []))
  expect(run.at(0, { kind: 'orders', orders }).map(({ kind }) => kind)).toEqual(['wishes', 'refused'])
})

test('a lamp asked to go dark is dark, with no gap', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1))
  expect(run.at(1, { kind: 'orders', orders: [{ kind: 'dark', lamp: 0 }] })).toEqual([
    { kind: 'wishes', wishes: [{ lamp: 0, state: { on: false }, gap: 0 }] },
  ])
})

test('a wish tells whose voice it is and how long its part’s gap is', () => {
  const run = runResolve({}, undefined, [resolvePart({ gap: 7000 })])
  expect(run.at(0, lightOrder(2, 5, { key: 72, velocity: 33 }))).toMatchObject([
    {
      wishes: [
        {
          lamp: 2,
          gap: 7000,
          state: { on: true, part: 'lead', player: 'keys', note: 5, key: 72, velocity: 33, strike: true },
        },
      ],
    },
  ])
})
