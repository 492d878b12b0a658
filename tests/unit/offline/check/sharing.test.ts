import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'
import type { RawShow } from '../../../support/shows.ts'

const players = [
  { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
  { id: 'bass', kind: 'keys', input: { port: 'Bass' } },
]

type Right = string | undefined | { readonly when: string; readonly priority: number }

const claim = (right: Right): RawShow => {
  if (right === undefined) return {}
  return { claim: typeof right === 'string' ? { when: right } : { ...right } }
}

const two = (claimLead: Right, claimLow: Right) => {
  const parts = [
    lead(claim(claimLead)),
    lead({ id: 'low', player: 'bass', lamps: ['moss'], ...claim(claimLow) }),
  ]
  return found(quietHouse({ rig: rig(), players, songs: [tide(parts)] }))
}

test('without a claim the first keeps the lamp', () => {
  expect(two(undefined, undefined)).toEqual([
    expect.stringMatching(/^note, song tide: lamp moss is shared by parts lead and low, none with a claim/),
  ])
})

test('one claim settles it, two of the same priority do not', () => {
  expect(two(undefined, 'playing')).toEqual([])
  expect(two('playing', 'latched')).toEqual([
    expect.stringMatching(
      /^note, song tide: lamp moss is claimed by parts lead and low, with the same priority: .* latched/,
    ),
  ])
  expect(two('playing', { when: 'latched', priority: 1 })).toEqual([])
  expect(two({ when: 'playing', priority: -1 }, 'latched')).toEqual([])
})

test("a lamp claimed always is nobody else's", () => {
  expect(two('always', 'playing')).toEqual([
    expect.stringMatching(/^fault, song tide, part low: this part never lights a lamp/),
    expect.stringMatching(
      /^warning, song tide: lamp moss: part lead has an "always" claim, so low never lights it/,
    ),
  ])
  expect(two(undefined, 'always')).toEqual([
    expect.stringMatching(/^warning, .*part low has an "always" claim, so lead never/),
  ])
})

test('but that of a claim with more priority', () => {
  expect(two('always', { when: 'playing', priority: 1 })).toEqual([])
  expect(two({ when: 'always', priority: 2 }, { when: 'always', priority: 3 })).toEqual([
    expect.stringMatching(/^warning, .*part low has an "always" claim, so lead never lights it/),
  ])
  expect(two({ when: 'always', priority: 3 }, { when: 'latched', priority: 2 })).toEqual([
    expect.stringMatching(/^fault, .*part low: this part never lights a lamp/),
    expect.stringMatching(/^warning, .*part lead has an "always" claim, so low never/),
  ])
})
