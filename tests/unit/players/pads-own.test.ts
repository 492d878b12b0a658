import { expect, test } from 'vitest'
import { on } from '../../support/midi-messages.ts'
import { playPads } from '../../support/players.ts'

const ms = 1000

test('a pad has its own floor, mask, gate and curve, and the player’s where it says nothing', () => {
  const run = playPads({
    floor: 8,
    maskMs: 12,
    gateMs: 120,
    curve: 'soft',
    pads: [
      { key: 38, name: 'Snare', floor: 2, maskMs: 30, gateMs: 60, curve: 'hard' },
      { key: 36, name: 'Kick' },
    ],
  })
  expect(run.at(0, on(38, 3))).toMatchObject([{ kind: 'note-on', velocity: 1, struck: 3 }])
  expect(run.at(0, on(36, 3))).toMatchObject([{ kind: 'dropped', why: 'floor' }])
  // 1 + 126 sqrt(1/2) = 90.1.
  expect(run.at(0, on(36, 64))).toMatchObject([{ kind: 'note-on', velocity: 90, struck: 64 }])
  expect(run.at(20 * ms, on(38, 64))).toMatchObject([{ kind: 'dropped', why: 'mask', velocity: 64 }])
  expect(run.at(20 * ms, on(36, 127)).at(-1)).toEqual({
    kind: 'note-on',
    note: 3,
    key: 36,
    channel: 1,
    velocity: 127,
  })
  expect(run.runOut()).toEqual([
    { at: 60 * ms, out: { kind: 'note-off', note: 1 } },
    { at: 140 * ms, out: { kind: 'note-off', note: 3 } },
  ])
})

test('a mask of 0 on one pad takes every hit there, whatever the others have', () => {
  const run = playPads({ maskMs: 30, pads: [{ key: 38, name: 'Snare', maskMs: 0 }] })
  run.at(0, on(38))
  run.at(0, on(36))
  expect(run.at(1 * ms, on(38)).at(-1)).toMatchObject({ kind: 'note-on' })
  expect(run.at(1 * ms, on(36)).at(-1)).toMatchObject({ kind: 'dropped', why: 'mask' })
})

test('however long it is played, little is remembered', () => {
  const run = playPads({ maskMs: 0, crosstalkMs: 1000 })
  // A burst of the same strength on one pad, then softer and softer.
  for (let hit = 0; hit < 500; hit++) run.at(hit, on(38, 90))
  expect(run.state.recent).toHaveLength(1)
  for (let hit = 0; hit < 500; hit++) run.at(500 + hit, on(38, 127 - (hit % 127)))
  expect(run.state.recent.length).toBeLessThanOrEqual(127)
  run.at(5_000_000, on(36))
  expect(run.state.recent).toHaveLength(1)
})
