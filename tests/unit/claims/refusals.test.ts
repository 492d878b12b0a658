import { expect, test } from 'vitest'
import { light, runClaims, wants } from '../../support/claiming.ts'

test.each(['supply', 'range'] as const)(
  'a lamp refused further down (%s) is dark and free again',
  (reason) => {
    const run = runClaims({ lamps: [0] }, { lamps: [0] })
    run.at(0, wants(0, light(0, 4)))
    expect(run.at(0, { kind: 'refused', lamp: 0, part: 0, note: 4, reason })).toEqual([
      { kind: 'orders', orders: [{ kind: 'dark', lamp: 0 }] },
      { kind: 'refused', part: 0, lamp: 0, note: 4, reason },
      { kind: 'gained', part: 1, lamp: 0 },
    ])
  },
)

test('a refusal that comes too late, for a note that gave the lamp up, touches nothing', () => {
  const run = runClaims({ lamps: [0] }, { lamps: [0] })
  run.at(0, wants(0, light(0, 4)))
  run.at(0, wants(0, light(0, 5)))
  expect(run.at(0, { kind: 'refused', lamp: 0, part: 0, note: 4, reason: 'range' })).toEqual([])
  expect(run.at(0, { kind: 'refused', lamp: 0, part: 1, note: 5, reason: 'range' })).toEqual([])
})

test('all lamps of a part whose strategy failed go dark, those of others stay', () => {
  const run = runClaims({ lamps: [0, 1, 2] }, { lamps: [2, 3] })
  run.at(0, wants(0, light(0, 1), light(1, 2)))
  run.at(0, wants(1, light(2, 3)))
  expect(run.at(1, { kind: 'failed', part: 0 })).toEqual([
    {
      kind: 'orders',
      orders: [
        { kind: 'dark', lamp: 0 },
        { kind: 'dark', lamp: 1 },
      ],
    },
  ])
  expect(run.state.owner).toEqual([-1, -1, 1, -1])
})
