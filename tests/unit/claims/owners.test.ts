import { expect, test } from 'vitest'
import { mayUse } from '../../../src/claims/claims.ts'
import { dark, light, runClaims, voice, wants } from '../../support/claiming.ts'

test('without claims the part that came first has the lamp; the other is refused, and told when it is free', () => {
  const run = runClaims({ lamps: [0, 1] }, { lamps: [1, 2] })
  expect(run.at(0, wants(0, light(1, 7)))).toEqual([
    { kind: 'orders', orders: [{ kind: 'light', lamp: 1, part: 0, voice: voice(7), strike: true }] },
  ])
  expect(run.at(1, wants(1, light(1, 8)))).toEqual([
    { kind: 'refused', part: 1, lamp: 1, note: 8, reason: 'claimed' },
  ])
  expect(run.at(2, wants(0, dark(1)))).toEqual([
    { kind: 'orders', orders: [{ kind: 'dark', lamp: 1 }] },
    { kind: 'gained', part: 1, lamp: 1 },
  ])
  expect(mayUse(run.state, 1, 1)).toBe(true)
})

test('a part lights its own lamp again, and darkens only its own', () => {
  const run = runClaims({ lamps: [0] }, { lamps: [0] })
  run.at(0, wants(0, light(0, 1)))
  expect(run.at(1, wants(0, light(0, 2, false)))).toMatchObject([
    { kind: 'orders', orders: [{ kind: 'light', strike: false, voice: { note: 2 } }] },
  ])
  expect(run.at(2, wants(1, dark(0)))).toEqual([])
})

test('a lamp darkened and lit again in one step is offered to nobody', () => {
  const run = runClaims({ lamps: [0] }, { lamps: [0] })
  run.at(0, wants(0, light(0, 1)))
  expect(run.at(1, wants(0, dark(0), light(0, 2))).map(({ kind }) => kind)).toEqual(['orders'])
})

test('a lamp of one part alone is offered to nobody', () => {
  const run = runClaims({ lamps: [0] }, { lamps: [1] })
  run.at(0, wants(0, light(0, 1)))
  expect(run.at(1, wants(0, dark(0))).map(({ kind }) => kind)).toEqual(['orders'])
})
