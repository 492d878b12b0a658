import { expect, test } from 'vitest'
import { found, lead, quietHouse, rig, tide } from '../../../support/checked-show.ts'

const claim = (when: string | undefined) => (when === undefined ? {} : { claim: { when } })

const two = (claimLead: string | undefined, claimLow: string | undefined) => {
  const parts = [lead(claim(claimLead)), lead({ id: 'low', lamps: ['moss'], ...claim(claimLow) })]
  return found(quietHouse({ rig: rig(), songs: [tide(parts)] }))
}

test('without a claim the first keeps the lamp', () => {
  expect(two(undefined, undefined)).toEqual([
    expect.stringMatching(/^note, song tide: lamp moss is shared by parts lead and low, none with a claim/),
  ])
})

test('one claim settles it, two do not', () => {
  expect(two(undefined, 'playing')).toEqual([])
  expect(two('playing', 'latched')).toEqual([
    expect.stringMatching(/^note, song tide: lamp moss is claimed by parts lead and low: .* latched/),
  ])
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
