import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { expect, test } from 'vitest'
import { countSubscriptions } from '../../support/counted-subscriptions.ts'
import { GraphRun } from '../../support/graph-run.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const STRATEGIES: RawShow[] = [
  { kind: 'lowest-free' },
  { kind: 'travel', move: { everyMs: 7 }, overlapMs: 5 },
  { kind: 'canon', delayMs: 9 },
  { kind: 'unison' },
]

/** Songs of one to four parts, every other one carried into. */
function manySongs(count: number): RawShow[] {
  return Array.from({ length: count }, (_, place) => ({
    id: `song${place}`,
    title: `Song ${place}`,
    enter: place % 2 === 0 ? 'cut' : 'carry',
    parts: STRATEGIES.slice(0, 1 + (place % 4)).map((strategy, part) => ({
      id: `part${part}`,
      player: 'keys',
      lamps: ['fern', 'moss', 'reed', 'sedge'].slice(part),
      strategy,
      gapMs: place % 3,
    })),
  }))
}

function playing(count: number): GraphRun {
  const switching = { controls: [{ player: 'keys', on: { kind: 'program' }, do: 'next' }] }
  return new GraphRun(validShow(glasshouse({ songs: manySongs(count), switching } as RawShow)))
}

test('200 songs in quick succession, with notes held: no stage, no subscription and no wake of a song before is left', () => {
  const subscriptions = countSubscriptions()
  const run = playing(201)
  const fixed = Object.keys(run.graph.save().cells).filter(
    (name) => !/^(part|claims|resolve|hold)/.test(name),
  )
  const open = new Map<number, number>()
  for (let place = 0; place <= 200; place++) {
    const at = 1000 * (place + 1)
    if (place > 0) run.graph.play('keys', [0xc0, 0], at)
    run.graph.play('keys', [0x90, 40 + (place % 40), 100], at + 10)
    run.graph.advance(at + 20)
    expect(run.graph.song).toBe(`song${place}`)
    const parts = 1 + (place % 4)
    const hasHold = place % 3 > 0
    const cells = Object.keys(run.graph.save().cells)
    expect(cells.toSorted()).toEqual(
      [
        ...fixed,
        'claims',
        'resolve',
        ...(hasHold ? ['hold'] : []),
        ...STRATEGIES.slice(0, parts).flatMap(({ kind }, part) => [
          `part part${part}`,
          `part part${part}: ${kind as string}`,
        ]),
      ].toSorted(),
    )
    // Songs of one make have the same subscriptions, however many came before.
    const make = place % 12
    expect(subscriptions()).toBe(open.get(make) ?? subscriptions())
    open.set(make, subscriptions())
  }
  expect(new Set(open.values()).size).toBeGreaterThan(1)
  for (let key = 0; key < 128; key++) run.graph.play('keys', [0x80, key, 64], 400_000)
  run.runOut()
  expect(run.litLamps()).toEqual([])
  expect(run.graph.nextDue).toBe(Infinity)
  run.graph.dispose()
  // Only those of the tap's own listener and of streams that ended by themselves may ever have been; none is open.
  expect(subscriptions()).toBe(0)
})

test('songs that were made ready and never played leave nothing either', () => {
  const subscriptions = countSubscriptions()
  const run = playing(20)
  const before = subscriptions()
  for (let round = 0; round < 5; round++) {
    for (let place = 1; place < 20; place++) run.graph.prepare(`song${place}`)
    run.graph.prepare('song3')
    expect(run.graph.isPrepared('song7')).toBe(true)
    run.graph.keepPrepared(new Set(['song1']))
    expect(run.graph.isPrepared('song7')).toBe(false)
  }
  expect(() => run.graph.prepare('none')).toThrow(/Unknown song "none"/)
  run.graph.keepPrepared(new Set())
  expect(subscriptions()).toBe(before)
  run.graph.prepare('song5')
  run.graph.dispose()
  expect(subscriptions()).toBe(0)
})

test('songs that are over are let go by memory too', async () => {
  setFlagsFromString('--expose-gc')
  const gc = runInNewContext('gc') as () => void
  const run = playing(40)
  const ended: number[] = []
  const registry = new FinalizationRegistry((round: number) => ended.push(round))
  // What the tap told is kept by the run; songs are told by name.
  run.events.length = 0
  for (let round = 0; round < 400; round++) {
    const at = 1000 * (round + 1)
    const song = `song${round % 40}`
    run.graph.changeSong(song, at)
    run.graph.play('keys', [0x90, 60, 100], at + 1)
    run.graph.play('keys', [0x80, 60, 64], at + 2)
    run.graph.advance(at + 3)
    // A state of the song's: reachable as long as the song is.
    registry.register(run.graph.save().cells.claims?.state as object, round)
    run.events.length = 0
  }
  for (let wait = 0; wait < 50 && ended.length < 395; wait++) {
    gc()
    await new Promise((resolve) => setImmediate(resolve))
  }
  expect(ended.length).toBeGreaterThanOrEqual(395)
})
