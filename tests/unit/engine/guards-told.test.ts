import { expect, test } from 'vitest'
import { fromEngine } from '../../../src/contract/from-engine.ts'
import { createFlashFigures } from '../../../src/guards/flash/flash-figures.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { startSession } from '../../support/memory-machine.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse, GLASSHOUSE_LAMPS } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000
const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]

const song = (id: string, kind: string, more: RawShow = {}): RawShow => ({
  id,
  title: id,
  parts: [{ id: 'lead', player: 'keys', lamps: [...GLASSHOUSE_LAMPS], strategy: { kind } }],
  ...more,
})

/** 10 W at 12 V: 0.8333 A a lamp. */
function house(overrides: RawShow = {}) {
  return validShow(
    glasshouse({
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
        outputs: [{ id: 'wire', kind: 'serial', port: '/dev/box' }],
        lamps: GLASSHOUSE_LAMPS.map((id, slot) => ({ id, output: 'wire', slot, supply: 'bench', watts: 10 })),
      },
      songs: [song('tide', 'unison'), song('dew', 'lowest-free', { enter: 'carry' })],
      ...overrides,
    }),
  )
}

async function playing(show = house()) {
  const live = startSession(show)
  const keybed = live.machine.midiIn.plug('input', 'Keybed')
  const began = live.machine.timers.now()
  live.session.start()
  await live.machine.timers.pass(400 * MS)
  const words = () =>
    live.of('guards').map((word) => fromEngine.parse(word) as Extract<typeof word, { type: 'guards' }>)
  const play = (bytes: readonly number[]): void => keybed.deliver(Uint8Array.from(bytes))
  return { ...live, words, play, began, pass: (ms: number) => live.machine.timers.pass(ms * MS) }
}

test('a voice on all four lamps that is gated ten times a second is ten flashes in a second, of all lamps', async () => {
  const { words, play, pass } = await playing()
  for (let time = 0; time < 30; time++) {
    play(on(69))
    await pass(50)
    play(off(69))
    await pass(50)
  }
  const { flash } = words().at(-1)!
  expect(flash).toMatchObject({ action: 'warn', lastSecond: 10, perSecondMax: 10, litShareMax: 1 })
  expect(flash.lamps.map(({ lamp }) => lamp)).toEqual([...GLASSHOUSE_LAMPS])
  expect(flash.lamps[3]).toMatchObject({ lastSecond: 10, perSecondMax: 10 })
  await pass(5000)
  // 30 onsets are 29 gaps of 0.1 s; the second that ends now has none.
  const after = words().at(-1)!.flash
  expect(after).toMatchObject({ lastSecond: 0, perSecondMax: 10, bandSeconds: 2.9, under60Seconds: 2.9 })
  expect(after).toMatchObject({ litShare: 0, folded: 0, tied: 0, glowed: 0 })
  expect(after.lamps[0]).toEqual({
    lamp: 'fern',
    lastSecond: 0,
    perSecondMax: 10,
    bandSeconds: 2.9,
    under60Seconds: 2.9,
  })
})

test('what is told live is what a rendered take has, of slow pulses and of gating', async () => {
  const show = house()
  const live = await playing(show)
  const offline = new GraphRun(show, undefined, live.began)
  const from = live.machine.timers.now()
  let at = from
  const both = async (bytes: readonly number[], ms: number): Promise<void> => {
    live.play(bytes)
    offline.graph.play('keys', Uint8Array.from(bytes), at)
    at += ms * MS
    await live.pass(ms)
  }
  for (let time = 0; time < 12; time++) {
    // Key 16 is 20.6 Hz (440 x 2^((16 - 69) / 12)), key 69 is seen steady.
    await both(on(time % 3 === 0 ? 16 : 69), 130 + time)
    await both(off(time % 3 === 0 ? 16 : 69), 45)
  }
  await live.pass(3000)
  offline.runOut()
  const figures = createFlashFigures(GLASSHOUSE_LAMPS)
  for (const { at: moment, changes } of offline.of('frame')) figures.frame(moment, changes)
  const { perSecondMax, bandSeconds, under60Seconds, litShareMax } = figures.finish(at + 3000 * MS)
  expect(live.words().at(-1)!.flash).toMatchObject({ perSecondMax, bandSeconds, under60Seconds, litShareMax })
  expect(bandSeconds).toBeGreaterThan(1)
  expect(perSecondMax).toBeGreaterThan(4)
})

test('it is told once at the start, then after changes only, and at most once a second', async () => {
  const { words, play, pass } = await playing()
  expect(words()).toHaveLength(1)
  await pass(10_000)
  expect(words()).toHaveLength(1)
  play(on(69))
  await pass(10_000)
  // Lit, and lit on: one word.
  expect(words()).toHaveLength(2)
  expect(words()[1]!.flash).toMatchObject({ litShare: 1, litShareMax: 1, lastSecond: 0, perSecondMax: 0 })
  play(off(69))
  await pass(10_000)
  // The flash that ends, then a second without one.
  expect(words().map(({ flash }) => flash.lastSecond)).toEqual([0, 0, 1, 0])
  for (let time = 0; time < 40; time++) {
    play(on(69))
    await pass(77)
    play(off(69))
    await pass(77)
  }
  const times = words().map(({ at }) => at)
  const gaps = times.slice(1).map((time, place) => time - times[place]!)
  expect(Math.min(...gaps)).toBeGreaterThanOrEqual(1_000_000)
  expect(times.length).toBeGreaterThan(8)
})

test('a song that begins begins the count anew and is told at once; a lamp that is carried on is lit', async () => {
  const { words, play, pass, session, said } = await playing()
  for (let time = 0; time < 10; time++) {
    play(on(69))
    await pass(60)
    play(off(69))
    await pass(60)
  }
  play(on(72))
  await pass(1500)
  const before = words().length
  expect(words().at(-1)!.flash.perSecondMax).toBeGreaterThan(7)
  session.ask({ to: 'song', song: 'dew' })
  await pass(1)
  expect(words()).toHaveLength(before + 1)
  const begun = words().at(-1)!
  // Three of the four lamps go dark in its first moment: light that goes out.
  expect(begun.flash).toMatchObject({ perSecondMax: 1, lastSecond: 1, bandSeconds: 0, under60Seconds: 0 })
  expect(begun.flash.litShare).toBe(0.25)
  const order = said.map(({ type }) => type)
  expect(order.lastIndexOf('guards')).toBeGreaterThan(order.lastIndexOf('song'))
  play(off(72))
  await pass(1100)
  expect(words().at(-1)!.flash).toMatchObject({ perSecondMax: 1, litShareMax: 0.25 })
})

test('what supplies give is told by arithmetic, and what was refused', async () => {
  // 2.5 A x 0.8 = 2 A: two lamps of 0.8333 A.
  const show = house({
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 2.5 }],
      outputs: [{ id: 'wire', kind: 'serial', port: '/dev/box' }],
      lamps: GLASSHOUSE_LAMPS.map((id, slot) => ({ id, output: 'wire', slot, supply: 'bench', watts: 10 })),
    },
    songs: [song('tide', 'lowest-free')],
  })
  const { words, play, pass, machine, began } = await playing(show)
  for (const key of [60, 64, 67]) play(on(key))
  await pass(2000)
  const word = words().at(-1)!
  expect(word.supply).toMatchObject({ action: 'refuse', stolen: 0, exceeded: 0, heldDown: 0 })
  expect(word.supply.refused).toBeGreaterThan(0)
  const [bench] = word.supply.supplies
  expect(bench).toMatchObject({ id: 'bench', limitAmps: 2, amps: 1.666667, peakAmps: 1.666667 })
  for (const key of [60, 64, 67]) play(off(key))
  await pass(2000)
  const now = words().at(-1)!
  const [after] = now.supply.supplies
  expect(after).toMatchObject({ amps: 0, peakAmps: 1.666667 })
  // Half the time lit of each pulse, 2 s long, since the song began.
  expect(after!.meanAmps).toBeCloseTo((1.666667 * 0.5 * 2_000 * MS) / (now.at - began), 2)
  expect(machine.timers.now()).toBeGreaterThan(now.at)
})

test.each([
  [
    { action: 'off', since: '2026-05-04' },
    { action: 'off', since: '2026-05-04' },
  ],
  [
    { action: 'limit', changes: 4 },
    { action: 'limit', changes: 4 },
  ],
  [{ action: 'glow', seconds: 2 }, { action: 'glow' }],
])("a song's own flash guard is told: %o", async (flash, told) => {
  const { words } = await playing(house({ songs: [song('tide', 'unison', { flash })] }))
  const { lastSecond: _, ...rest } = words()[0]!.flash
  const counts = {
    perSecondMax: 0,
    bandSeconds: 0,
    under60Seconds: 0,
    litShare: 0,
    litShareMax: 0,
    lamps: [],
  }
  expect(rest).toEqual({ ...told, ...counts, folded: 0, tied: 0, glowed: 0 })
})
