import { expect, test } from 'vitest'
import { mayUse } from '../../../src/claims/claims.ts'
import { claim, ends, light, runClaims, strikes, wants } from '../../support/claiming.ts'

const ms = 1000

function twoClaims() {
  return runClaims(
    { lamps: [0, 1], claim: claim('playing', 100) },
    { lamps: [1, 2], claim: claim('playing', 100) },
    { lamps: [0, 1, 2] },
  )
}

test('of two claims on one lamp the one that was there first keeps it', () => {
  const run = twoClaims()
  run.at(0, strikes(1, 1))
  run.at(1, strikes(0, 2))
  expect([0, 1, 2].map((part) => mayUse(run.state, part, 1))).toEqual([false, true, false])
  expect(mayUse(run.state, 0, 0)).toBe(true)
})

test('the lamp goes to the claim that waits, and to nobody else', () => {
  const run = twoClaims()
  run.at(0, strikes(1, 1))
  run.at(1, strikes(0, 2))
  run.at(10 * ms, ends(1, 1))
  expect(run.runOut()).toEqual([
    { at: 110 * ms, out: { kind: 'gained', part: 0, lamp: 1 } },
    { at: 110 * ms, out: { kind: 'gained', part: 2, lamp: 2 } },
  ])
  expect(run.at(200 * ms, wants(2, light(1, 3)))).toMatchObject([{ kind: 'refused' }])
})

test('what the first claim still sounds when its time is over ends for the one that waits', () => {
  const run = twoClaims()
  run.at(0, strikes(1, 1))
  run.at(0, wants(1, light(1, 1), light(2, 1)))
  run.at(1, strikes(0, 2))
  run.at(10 * ms, ends(1, 1))
  expect(run.runOut().map(({ out }) => out)).toEqual([
    { kind: 'orders', orders: [{ kind: 'dark', lamp: 1 }] },
    { kind: 'lost', part: 1, lamp: 1 },
    { kind: 'gained', part: 0, lamp: 1 },
  ])
  // Nobody waits for lamp 2: there it sounds on.
  expect(run.at(200 * ms, wants(1, light(2, 1, false)))).toMatchObject([{ kind: 'orders' }])
})
