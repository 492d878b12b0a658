import { expect, test } from 'vitest'
import { isSameHouse, songChange } from '../../../src/graph/same-show.ts'
import { GraphRun } from '../../support/graph-run.ts'
import type { RawShow } from '../../support/shows.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const on = (key: number): number[] => [0x90, key, 100]

const SONG = (glasshouse().songs as RawShow[])[0] as RawShow
const SHOW = validShow(glasshouse())

type RawParts = RawShow & { rig: { lamps: RawShow[]; supplies: RawShow[] }; players: RawShow[] }

function withSong(change: RawShow) {
  return validShow(glasshouse({ songs: [{ ...SONG, ...change }] }))
}

test('a song with another title is the same, one with another tempo is not', () => {
  const run = new GraphRun(SHOW)
  run.graph.play('keys', on(60), 1000)
  expect(run.graph.revise(withSong({ title: 'Ebb' }), 2000)).toBe(false)
  expect(run.litLamps()).toEqual(['fern'])
  expect(run.graph.revise(withSong({ title: 'Ebb', tempo: 61 }), 3000)).toBe(true)
  expect(run.litLamps()).toEqual([])
  // As it is now counts, not as it was at first.
  expect(run.graph.revise(withSong({ tempo: 61 }), 4000)).toBe(false)
  expect(run.of('frame').map(({ at }) => at)).toEqual([1000, 3000])
})

test('what a lamp box said of its timer holds through an edit', () => {
  const run = new GraphRun(SHOW)
  run.graph.setTimer('wire', { clockHz: 7_372_800, prescalers: [1, 8], bits: 16 }, 1000)
  run.graph.revise(withSong({ tempo: 61 }), 2000)
  run.graph.play('keys', on(69), 3000)
  run.graph.advance(3000)
  const [fern] = run.graph.lamps
  // 7,372,800 / 16,756 (fast PWM formula, ATmega640/1280/2560 data sheet).
  expect(fern?.on && fern.realHz).toBeCloseTo(440.00955, 4)
})

test('another rig and other players are refused, and all goes on', () => {
  const run = new GraphRun(SHOW)
  run.graph.play('keys', on(60), 1000)
  const players = [{ id: 'keys', kind: 'keys', input: { port: 'Other' } }]
  expect(() => run.graph.revise(validShow(glasshouse({ players })), 2000)).toThrow(/another graph/)
  run.graph.advance(2000)
  expect(run.litLamps()).toEqual(['fern'])
})

test('a house is the same whatever things are called and wherever they hang, and no other', () => {
  const edited = (edit: (raw: RawParts) => void): boolean => {
    const raw = glasshouse() as RawParts
    edit(raw)
    return isSameHouse(SHOW, validShow(raw))
  }
  expect(edited((raw) => (raw.title = 'Other'))).toBe(true)
  expect(
    edited(({ rig }) => rig.lamps.forEach((lamp, x) => Object.assign(lamp, { name: 'Bed', x: -x, y: 3 }))),
  ).toBe(true)
  expect(edited((raw) => Object.assign(raw.players[0] ?? {}, { name: 'Ada' }))).toBe(true)
  // A default that is written out.
  expect(edited((raw) => (raw.guards = { supply: { action: 'refuse' } }))).toBe(true)
  expect(edited((raw) => (raw.guards = { supply: { action: 'warn' } }))).toBe(false)
  expect(edited(({ rig }) => rig.lamps.reverse())).toBe(false)
  expect(edited(({ rig }) => rig.lamps.forEach((lamp) => Object.assign(lamp, { watts: 9 })))).toBe(false)
  expect(edited(({ rig }) => rig.supplies.forEach((supply) => Object.assign(supply, { maxAmps: 9 })))).toBe(
    false,
  )
  expect(edited((raw) => Object.assign(raw.players[0] ?? {}, { bendRange: 3 }))).toBe(false)
})

test('pads are the same whatever they are called, and not where one is set otherwise', () => {
  const withPads = (...pads: RawShow[]) =>
    validShow(
      glasshouse({
        players: [
          { id: 'keys', kind: 'keys', input: { port: 'Keybed' } },
          { id: 'pads', kind: 'pads', input: { port: 'Pads' }, pads },
        ],
      }),
    )
  const snare = { key: 38, name: 'Snare' }
  expect(isSameHouse(withPads(), withPads(snare))).toBe(true)
  expect(isSameHouse(withPads(snare), withPads({ key: 38, name: 'Rim' }, { key: 36, name: 'Kick' }))).toBe(
    true,
  )
  expect(isSameHouse(withPads(snare), withPads({ ...snare, maskMs: 0 }))).toBe(false)
  expect(isSameHouse(withPads({ ...snare, maskMs: 8 }), withPads({ key: 38, name: 'Rim', maskMs: 8 }))).toBe(
    true,
  )
  expect(isSameHouse(withPads({ ...snare, maskMs: 8 }), withPads({ ...snare, key: 40, maskMs: 8 }))).toBe(
    false,
  )
})

test('a song is the same by what it plays', () => {
  expect(songChange(SHOW, withSong({ enter: 'carry', title: 'Ebb' }), 'tide')).toBe('none')
  expect(songChange(SHOW, withSong({ id: 'ebb' }), 'tide')).toBe('all')
  const part = { id: 'lead', player: 'keys', lamps: [...GLASSHOUSE_LAMPS] }
  const stealing = (steal: string, more = {}) =>
    withSong({ parts: [{ ...part, strategy: { kind: 'lowest-free', steal }, ...more }] })
  expect(songChange(SHOW, stealing('oldest'), 'tide')).toBe('none')
  expect(songChange(SHOW, stealing('none'), 'tide')).toBe('all')
  expect(songChange(SHOW, stealing('oldest', { glide: { ms: 20 } }), 'tide')).toBe('all')
})
