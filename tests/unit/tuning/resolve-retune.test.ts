import { expect, test } from 'vitest'
import type { ScaleTuning } from '../../../src/domain/tuning-spec.ts'
import { EVEN, lightOrder, litBy, resolvePart, runResolve } from '../../support/resolving.ts'

/** A whole tone of 9/8 and a fifth of 3/2 on 60; no other key. */
const BARE: ScaleTuning = {
  id: 'bare',
  kind: 'scale',
  name: '',
  pitches: ['9/8', '3/2', '2'],
  map: {
    first: 60,
    last: 72,
    middle: 60,
    formalOctave: 3,
    degrees: [0, null, 1, null, null, null, null, 2, null, null, null, null],
  },
  refNote: 60,
  refHz: 264,
}

const retuned = (retune: boolean) => ({ kind: 'tunings' as const, tunings: [BARE], retune })

test('what sounds goes to the other tuning without a strike, bends and all', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1, { key: 67 }))
  run.at(1000, { kind: 'expression', part: 0, expression: { kind: 'bend', channel: 1, cents: 100 } })
  const lit = litBy(run.at(2000, retuned(true))).get(0)
  expect(lit?.hz).toBeCloseTo(264 * 1.5 * 2 ** (1 / 12), 9)
  expect(lit?.strike).toBe(false)
})

test('or it keeps its pitch, through bends too, and notes to come are in the other', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1, { key: 69 }))
  expect(run.at(1000, retuned(false))).toEqual([])
  const bent = litBy(
    run.at(10_000, { kind: 'expression', part: 0, expression: { kind: 'bend', channel: 1, cents: 1200 } }),
  )
  expect(bent.get(0)?.hz).toBeCloseTo(880, 9)
  expect(litBy(run.at(20_000, lightOrder(1, 2, { key: 62 }))).get(1)?.hz).toBeCloseTo(264 * 2.25, 9)
})

test('a key without a pitch is refused, also to what sounds', () => {
  const run = runResolve({}, undefined, [resolvePart({ tuning: BARE })])
  const refused = { kind: 'refused', part: 0, reason: 'unmapped' }
  expect(run.at(0, lightOrder(0, 4, { key: 61 }))).toEqual([{ ...refused, lamp: 0, note: 4 }])
  const other = runResolve()
  other.at(0, lightOrder(2, 5, { key: 65 }))
  expect(other.at(1000, retuned(true))).toEqual([{ ...refused, lamp: 2, note: 5 }])
})

test('the same tuning again says nothing', () => {
  const run = runResolve()
  run.at(0, lightOrder(0, 1, { key: 69 }))
  expect(run.at(1000, { kind: 'tunings', tunings: [EVEN], retune: true })).toEqual([])
})
