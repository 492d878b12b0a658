import { describe, expect, test } from 'vitest'
import { mayUse } from '../../../src/claims/claims.ts'
import { claim, dark, ends, light, played, runClaims, strikes, wants } from '../../support/claiming.ts'

const ms = 1000

describe('playing', () => {
  test('its first note takes the lamps: what sounded there ends and its part is told', () => {
    const run = runClaims({ lamps: [0, 1] }, { lamps: [1, 2], claim: claim('playing') })
    run.at(0, wants(0, light(0, 1), light(1, 2)))
    expect(run.at(1, strikes(1, 9))).toEqual([
      { kind: 'orders', orders: [{ kind: 'dark', lamp: 1 }] },
      { kind: 'lost', part: 0, lamp: 1 },
    ])
    expect(run.at(2, wants(0, light(1, 3)))).toMatchObject([{ kind: 'refused', reason: 'claimed' }])
    expect(run.at(3, wants(1, light(1, 9)))).toMatchObject([{ kind: 'orders' }])
  })

  test('the lamps come back releaseMs after its last note, dark or not', () => {
    const run = runClaims({ lamps: [1, 2] }, { lamps: [1, 2], claim: claim('playing', 500) })
    run.at(0, strikes(1, 1))
    run.at(0, strikes(1, 2))
    run.at(0, wants(1, light(1, 1)))
    run.at(100 * ms, ends(1, 1))
    run.at(200 * ms, ends(1, 2))
    expect(mayUse(run.state, 0, 2)).toBe(false)
    // Lamp 1 sounds on (an echo, say): it is offered once it is dark.
    expect(run.runOut()).toEqual([{ at: 700 * ms, out: { kind: 'gained', part: 0, lamp: 2 } }])
    expect(run.at(800 * ms, wants(1, dark(1)))).toMatchObject([
      { kind: 'orders' },
      { kind: 'gained', part: 0, lamp: 1 },
    ])
  })

  test('a note within releaseMs keeps them', () => {
    const run = runClaims({ lamps: [1] }, { lamps: [1], claim: claim('playing', 500) })
    run.at(0, strikes(1, 1))
    run.at(100 * ms, ends(1, 1))
    run.at(599 * ms, strikes(1, 2))
    expect(run.runOut()).toEqual([])
    expect(mayUse(run.state, 0, 1)).toBe(false)
  })

  test('all-off counts as the end of its last note', () => {
    const run = runClaims({ lamps: [1] }, { lamps: [1], claim: claim('playing', 500) })
    run.at(0, strikes(1, 1))
    run.at(0, strikes(1, 2))
    run.at(10 * ms, played(1, { kind: 'all-off' }))
    expect(run.runOut()).toEqual([{ at: 510 * ms, out: { kind: 'gained', part: 0, lamp: 1 } }])
  })

  test('releaseMs 0 gives them back at once', () => {
    const run = runClaims({ lamps: [1] }, { lamps: [1], claim: claim('playing', 0) })
    run.at(0, strikes(1, 1))
    expect(run.at(5, ends(1, 1))).toEqual([{ kind: 'gained', part: 0, lamp: 1 }])
    expect(run.wakeAt).toBeUndefined()
  })

  test('its own lit lamps stay lit when the claim begins', () => {
    const run = runClaims({ lamps: [0] }, { lamps: [0], claim: claim('playing', 0) })
    run.at(0, wants(1, light(0, 1)))
    expect(run.at(1, strikes(1, 2))).toEqual([])
  })
})

test('latched: from its first note on, whoever lets go', () => {
  const run = runClaims({ lamps: [1] }, { lamps: [1], claim: claim('latched', 10) })
  expect(run.at(0, wants(0, light(1, 1)))).toMatchObject([{ kind: 'orders' }])
  expect(run.at(1, strikes(1, 2))).toMatchObject([{ kind: 'orders' }, { kind: 'lost', part: 0 }])
  run.at(2, ends(1, 2))
  run.at(3, played(1, { kind: 'all-off' }))
  expect(run.runOut()).toEqual([])
  expect(mayUse(run.state, 0, 1)).toBe(false)
})

test('always: from the start, without a note', () => {
  const run = runClaims({ lamps: [1] }, { lamps: [1], claim: claim('always', 0) })
  expect(run.at(0, wants(0, light(1, 1)))).toMatchObject([{ kind: 'refused', reason: 'claimed' }])
  run.at(1, strikes(1, 2))
  run.at(2, ends(1, 2))
  expect(run.runOut()).toEqual([])
  expect(mayUse(run.state, 0, 1)).toBe(false)
})
