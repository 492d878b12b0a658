import { expect, test } from 'vitest'
import { validShow } from '../../support/valid-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../../support/shows.ts'

const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]

function rig(maxAmps: number, extra: Record<string, unknown> = {}): Record<string, never> {
  return {
    supplies: [{ id: 'bench', volts: 12, maxAmps, usable: 0.8 }],
    outputs: [{ id: 'wire', kind: 'serial', port: 'virtual' }],
    lamps: GLASSHOUSE_LAMPS.slice(0, 3).map((id, slot) => ({
      id,
      output: 'wire',
      slot,
      supply: 'bench',
      watts: 10,
      ...extra,
    })),
  } as never
}

function song(...parts: object[]): Record<string, never> {
  return { songs: [{ id: 'tide', title: 'Tide table', parts }] } as never
}

const LEAD = {
  id: 'lead',
  player: 'keys',
  lamps: ['fern', 'moss', 'reed'],
  strategy: { kind: 'lowest-free' },
}

test('three 10 W lamps at 12 V on a 2.5 A supply used to 80 %: two light, the third is refused and reported, and lights when one frees', () => {
  const run = new GraphRun(validShow(glasshouse({ rig: rig(2.5), ...song(LEAD) })))
  for (const key of [60, 64, 67]) run.graph.play('keys', on(key), 1000)
  run.graph.advance(1000)
  expect(run.litLamps()).toEqual(['fern', 'moss'])
  expect(run.of('refused')).toEqual([
    { kind: 'refused', at: 1000, part: 'lead', note: 3, lamp: 'reed', reason: 'supply' },
  ])
  run.graph.play('keys', off(60), 2000)
  run.graph.advance(2000)
  expect(run.graph.lamps.map((lamp) => (lamp.on ? lamp.key : 0))).toEqual([67, 64, 0])
})

test('with the guard set to steal the third lights and the first goes dark; let go, the first comes back', () => {
  const guards = { supply: { action: 'steal' } }
  const run = new GraphRun(validShow(glasshouse({ rig: rig(2.5), guards, ...song(LEAD) } as never)))
  for (const [at, key] of [60, 64, 67].entries()) run.graph.play('keys', on(key), 1000 * (at + 1))
  run.graph.advance(3000)
  expect(run.graph.lamps.map((lamp) => (lamp.on ? lamp.key : 0))).toEqual([0, 64, 67])
  expect(run.of('shed')).toEqual([{ kind: 'shed', at: 3000, lamp: 'fern', supply: 'bench' }])
  expect(run.of('refused')).toMatchObject([{ at: 3000, note: 1, reason: 'supply' }])
  run.graph.play('keys', off(67), 4000)
  run.graph.advance(4000)
  expect(
    run.graph.lamps
      .map((lamp) => (lamp.on ? lamp.key : 0))
      .filter((key) => key > 0)
      .toSorted(),
  ).toEqual([60, 64])
})

test('with the guard set to warn all three light, and it is said', () => {
  const guards = { flash: { action: 'warn' }, supply: { action: 'warn' } }
  const run = new GraphRun(validShow(glasshouse({ rig: rig(2.5), guards, ...song(LEAD) })))
  for (const key of [60, 64, 67]) run.graph.play('keys', on(key), 1000)
  run.graph.advance(1000)
  expect(run.litLamps()).toEqual(['fern', 'moss', 'reed'])
  expect(run.of('exceeded')).toEqual([{ kind: 'exceeded', at: 1000, lamp: 'reed', supply: 'bench' }])
})

test('a pitch of which no octave is in any lamp is refused by each once, and does no harm', () => {
  const run = new GraphRun(validShow(glasshouse({ rig: rig(5, { lowHz: 430, highHz: 450 }), ...song(LEAD) })))
  run.graph.play('keys', on(60), 1000)
  run.graph.play('keys', on(69), 2000)
  run.graph.advance(2000)
  expect(run.of('refused').map(({ lamp, reason }) => `${lamp} ${reason}`)).toEqual([
    'fern range',
    'moss range',
    'reed range',
  ])
  expect(run.graph.lamps.map((lamp) => (lamp.on ? lamp.key : 0))).toEqual([69, 0, 0])
})

test('a claim takes lamps while its player plays, and the voices there move or come back', () => {
  const players = [
    { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
    { id: 'bass', kind: 'keys', input: { port: 'Bass' } },
  ]
  const claiming = {
    id: 'low',
    player: 'bass',
    lamps: ['fern', 'moss'],
    strategy: { kind: 'unison' },
    claim: { when: 'playing', releaseMs: 500 },
  }
  const run = new GraphRun(validShow(glasshouse({ rig: rig(5), players, ...song(LEAD, claiming) })))
  const picture = (): string =>
    run.graph.lamps.map((lamp) => (lamp.on ? `${lamp.part}:${lamp.key}` : '-')).join(' ')
  run.graph.play('keys', on(60), 1_000)
  run.graph.play('keys', on(64), 1_000)
  run.graph.advance(1_000)
  expect(picture()).toBe('lead:60 lead:64 -')
  run.graph.play('bass', on(28), 10_000)
  run.graph.advance(10_000)
  // One of the two finds the lamp that is left, the other waits.
  expect(picture()).toBe('low:28 low:28 lead:60')
  run.graph.play('bass', off(28), 20_000)
  run.graph.advance(20_000)
  expect(picture()).toBe('- - lead:60')
  run.graph.advance(520_000)
  expect(picture()).toBe('lead:64 - lead:60')
  run.graph.play('keys', off(60), 600_000)
  run.graph.play('keys', off(64), 600_000)
  run.graph.advance(600_000)
  expect(picture()).toBe('- - -')
})
