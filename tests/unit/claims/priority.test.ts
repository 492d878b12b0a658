import { expect, test } from 'vitest'
import { mayUse } from '../../../src/claims/claims.ts'
import { claim, ends, light, played, runClaims, strikes, wants } from '../../support/claiming.ts'

const ms = 1000

test('a claim of more priority takes the lamps of one with less, at once, with what sounds there', () => {
  const run = runClaims(
    { lamps: [0, 1], claim: claim('playing', 100) },
    { lamps: [1, 2], claim: claim('playing', 100, 1) },
  )
  run.at(0, strikes(0, 1))
  run.at(0, wants(0, light(0, 1), light(1, 1)))
  expect(run.at(1, strikes(1, 2))).toEqual([
    { kind: 'orders', orders: [{ kind: 'dark', lamp: 1 }] },
    { kind: 'lost', part: 0, lamp: 1 },
  ])
  expect(run.state.holder).toEqual([0, 1, 1, -1])
})

test('and gives them back to it, and to nobody else, when it is given back itself', () => {
  const run = runClaims(
    { lamps: [0], claim: claim('playing', 100) },
    { lamps: [0], claim: claim('playing', 100, 1) },
    { lamps: [0] },
  )
  run.at(0, strikes(0, 1))
  run.at(1, strikes(1, 2))
  run.at(10 * ms, ends(1, 2))
  expect(run.runOut()).toEqual([{ at: 110 * ms, out: { kind: 'gained', part: 0, lamp: 0 } }])
  run.at(200 * ms, ends(0, 1))
  expect(run.runOut()).toEqual([
    { at: 300 * ms, out: { kind: 'gained', part: 1, lamp: 0 } },
    { at: 300 * ms, out: { kind: 'gained', part: 2, lamp: 0 } },
  ])
})

test('a claim of less priority is active from its first note, and has what is left to it', () => {
  const run = runClaims(
    { lamps: [0, 1], claim: claim('playing', 0, -1) },
    { lamps: [1], claim: claim('playing', 0) },
  )
  run.at(0, strikes(1, 1))
  expect(run.at(1, strikes(0, 2))).toEqual([])
  expect(run.state.holder).toEqual([0, 1, -1, -1])
  expect(run.at(2, ends(1, 1))).toEqual([{ kind: 'gained', part: 0, lamp: 1 }])
})

test('any claim takes from a part without one, whatever its priority', () => {
  const run = runClaims({ lamps: [0] }, { lamps: [0], claim: claim('playing', 0, -100) })
  run.at(0, wants(0, light(0, 1)))
  expect(run.at(1, strikes(1, 2))).toMatchObject([{ kind: 'orders' }, { kind: 'lost', part: 0 }])
})

test('of several that wait the highest has the lamp next, of equals the one that came first, not the first in the song', () => {
  const run = runClaims(
    { lamps: [0], claim: claim('playing', 0) },
    { lamps: [0], claim: claim('playing', 0) },
    { lamps: [0], claim: claim('playing', 0, 1) },
    { lamps: [0], claim: claim('playing', 0, 2) },
  )
  const holders: (number | undefined)[] = []
  let at = 0
  for (const part of [1, 0, 2, 3]) {
    run.at(at++, strikes(part, part + 1))
    holders.push(run.state.holder[0])
  }
  for (const part of [3, 2, 1, 0]) {
    run.at(at++, ends(part, part + 1))
    holders.push(run.state.holder[0])
  }
  expect(holders).toEqual([1, 1, 2, 3, 2, 1, 0, -1])
})

test('a claim for always keeps its lamps but from one with more priority', () => {
  const run = runClaims(
    { lamps: [0], claim: claim('always', 0) },
    { lamps: [0], claim: claim('always', 0, 3) },
    { lamps: [0], claim: claim('playing', 0, 4) },
  )
  expect(run.state.holder[0]).toBe(1)
  run.at(0, strikes(2, 1))
  expect(run.state.holder[0]).toBe(2)
  expect(run.at(1, ends(2, 1))).toEqual([{ kind: 'gained', part: 1, lamp: 0 }])
})

test('all made dark: claims end at once but those for always, also latched ones and those that wait for releaseMs', () => {
  const run = runClaims(
    { lamps: [0], claim: claim('latched', 0, 1) },
    { lamps: [1], claim: claim('playing', 500) },
    { lamps: [2], claim: claim('always', 0) },
    { lamps: [0, 1, 2] },
  )
  run.at(0, strikes(0, 1))
  run.at(0, strikes(1, 2))
  run.at(1, played(0, { kind: 'all-off' }))
  run.at(1, ends(1, 2))
  expect(run.state.holder).toEqual([0, 1, 2, -1])
  expect(run.at(2, { kind: 'dark-all' })).toEqual([
    { kind: 'gained', part: 3, lamp: 0 },
    { kind: 'gained', part: 3, lamp: 1 },
  ])
  expect(run.wakeAt).toBeUndefined()
  expect([0, 1, 2].map((lamp) => mayUse(run.state, 3, lamp))).toEqual([true, true, false])
  // It comes anew with its next note.
  run.at(3, strikes(0, 3))
  run.at(4, ends(0, 3))
  expect(run.state.holder[0]).toBe(0)
})
