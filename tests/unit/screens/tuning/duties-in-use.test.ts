import { expect, test } from 'vitest'
import { liveDuties, partDuties } from '../../../../app/screens/tuning/duties-in-use.ts'
import { partialsWords } from '../../../../app/screens/tuning/partials.ts'
import type { DutySource } from '../../../../src/domain/song.ts'
import { demoShow } from '../../../support/demo.ts'

const [lead] = demoShow().songs[0]?.parts ?? []
if (!lead) throw new Error('no part')
const RANGE = { base: 0.3, low: 0.2, high: 0.5 }

function named(duty: DutySource): (readonly [string, number])[] {
  return partDuties({ ...(lead as NonNullable<typeof lead>), duty }).map(({ name, duty: one }) => [name, one])
}

test('what a part’s duty can be: the same always, or between two ends', () => {
  expect(named(RANGE)).toEqual([['base', 0.3]])
  expect(named({ ...RANGE, controller: 74 })).toEqual([
    ['base', 0.3],
    ['low', 0.2],
    ['high', 0.5],
  ])
  expect(named({ ...RANGE, velocity: true })).toEqual([
    ['low', 0.2],
    ['high', 0.5],
  ])
  expect(named({ ...RANGE, sweepSeconds: 30 })).toEqual([
    ['low', 0.2],
    ['high', 0.5],
  ])
  // By the key, each end with the key that has it.
  expect(named({ ...RANGE, keys: [28, 64] })).toEqual([
    ['low, E1', 0.2],
    ['high, E4', 0.5],
  ])
})

test('what vanishes at either end: harmonic n where n times the duty is whole (any Fourier-series table)', () => {
  const words = partDuties({ ...lead, duty: { ...RANGE, keys: [28, 64] } }).map(({ duty }) =>
    partialsWords(duty),
  )
  expect(words).toEqual([
    'Every 5th partial vanishes at a duty of 1/5.',
    'Every 2nd partial vanishes at a duty of 1/2.',
  ])
})

test('lamps that the part lights now, by their names', () => {
  const lamps = new Map([
    ['fern', { lamp: 'fern', on: true, part: 'lead', duty: 0.12345 }],
    ['moss', { lamp: 'moss', on: true, part: 'low', duty: 0.2 }],
    ['reed', { lamp: 'reed', on: false }],
  ])
  expect(liveDuties(lamps, 'lead', (lamp) => lamp.toUpperCase())).toEqual([
    { id: 'lamp fern', name: 'FERN', duty: 0.123 },
  ])
})
