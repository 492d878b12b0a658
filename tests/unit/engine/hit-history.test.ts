import { expect, test } from 'vitest'
import { PlayerActivities } from '../../../app/engine/player-activity.ts'
import { fromEngine } from '../../../src/contract/from-engine.ts'
import { CONTRACT_VERSION } from '../../../src/contract/version.ts'
import type { PlayerEvent } from '../../../src/domain/player-event.ts'
import { on } from '../../support/midi-messages.ts'
import { keysPlayer, padsPlayer, playPads } from '../../support/players.ts'

const MS = 1_000

function setUp() {
  const activities = new PlayerActivities([padsPlayer(), keysPlayer()])
  const did = (event: PlayerEvent, at: number, player = 'pads'): void =>
    activities.watch({ kind: 'player', at, player, event })
  const strike = (at: number, key = 38, velocity = 90): void =>
    did({ kind: 'note-on', note: at + 1, key, channel: 10, velocity }, at)
  const pads = () => {
    const players = activities.news() ?? []
    // What is said keeps to the contract.
    expect(fromEngine.parse({ v: CONTRACT_VERSION, type: 'players', at: 0, players })).toMatchObject({
      players,
    })
    return players[0]
  }
  return { activities, did, strike, pads }
}

test('what a pads player really makes of hits is told with its reasons, as struck', () => {
  const { did, pads } = setUp()
  const run = playPads({ curve: 'soft', maskMs: 12, crosstalkMs: 5, floor: 8 })
  for (const [at, key, velocity] of [
    [0, 38, 64],
    [2, 36, 12],
    [6, 38, 30],
    [100, 42, 3],
    [200, 36, 127],
  ] as const) {
    const before = run.said.length
    run.at(at * MS, on(key, velocity, 10))
    for (const { at: when, out } of run.said.slice(before)) did(out, when)
  }
  expect(pads()).toMatchObject({
    notes: 2,
    dropped: 3,
    drops: { floor: 1, mask: 1, crosstalk: 1, ghost: 0 },
    hits: [
      // 1 + 126 sqrt(1/2) = 90.1.
      { at: 0, key: 38, velocity: 64, taken: 90 },
      { at: 2 * MS, key: 36, velocity: 12, dropped: 'crosstalk' },
      { at: 6 * MS, key: 38, velocity: 30, dropped: 'mask' },
      { at: 100 * MS, key: 42, velocity: 3, dropped: 'floor' },
      { at: 200 * MS, key: 36, velocity: 127 },
    ],
  })
})

test('hits go back two seconds from the latest, and are 64 at most; ends of notes are none', () => {
  const { did, strike, pads } = setUp()
  strike(0)
  strike(1_000 * MS)
  did({ kind: 'note-off', note: 1 }, 5_000 * MS)
  expect(pads()?.hits?.map(({ at }) => at)).toEqual([0, 1_000 * MS])
  strike(2_000 * MS)
  expect(pads()?.hits?.map(({ at }) => at)).toEqual([1_000 * MS, 2_000 * MS])
  for (let hit = 1; hit <= 100; hit++) strike(2_000 * MS + hit)
  const hits = pads()?.hits ?? []
  expect(hits).toHaveLength(64)
  expect(hits.at(-1)?.at).toBe(2_000 * MS + 100)
})

test('only pads have a history', () => {
  const { activities } = setUp()
  const [pads, keys] = activities.news() ?? []
  expect(pads?.hits).toEqual([])
  expect(keys).not.toHaveProperty('hits')
})
