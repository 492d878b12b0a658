import { expect, test } from 'vitest'
import type { Drive } from '../../../src/domain/lamp-state.ts'
import { GraphRun } from '../../support/graph-run.ts'
import { LampBox } from '../../support/lamp-box.ts'
import { replayLamps } from '../../support/replayed-lamps.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const on = (key: number, channel = 0): number[] => [0x90 | channel, key, 100]
const off = (key: number, channel = 0): number[] => [0x80 | channel, key, 64]
const MS = 1_000

type Part = RawShow & { lamps: string[] }

const part = (lamps: string[], more: RawShow = {}): Part => ({
  id: 'lead',
  player: 'keys',
  lamps,
  strategy: { kind: 'lowest-free' },
  ...more,
})

const song = (id: string, parts: Part[], more: RawShow = {}): RawShow => ({ id, title: id, parts, ...more })

/** Fern and moss on a serial lamp box, reed and sedge on a MIDI one. */
function rig(more: RawShow = {}, lampMore: RawShow = {}): RawShow {
  const lamps = ['fern', 'moss', 'reed', 'sedge'].map((id, index) => ({
    id,
    output: index < 2 ? 'wire' : 'din',
    slot: index % 2,
    supply: 'bench',
    watts: 10,
    ...lampMore,
  }))
  return {
    supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
    outputs: [
      { id: 'wire', kind: 'serial', port: 'wire' },
      { id: 'din', kind: 'midi', port: 'din', layout: 'channel-per-lamp', dutyController: 74 },
    ],
    lamps,
    ...more,
  }
}

/** In `tide` first; `dew` is carried into. */
function playing(tide: Part[], dew: Part[], more: RawShow = {}): GraphRun {
  const songs = [song('tide', tide), song('dew', dew, { enter: 'carry' })]
  return new GraphRun(validShow(glasshouse({ rig: rig(), songs, ...more } as RawShow)))
}

/** What left for the MIDI lamp box at a time, as hexadecimal. */
const midiAt = (run: GraphRun, at: number): string[] =>
  run.of('bytes').flatMap((event) => (event.at === at && event.output === 'din' ? [hex(event.bytes)] : []))
const serialAt = (run: GraphRun, at: number): Uint8Array[] =>
  run.of('bytes').flatMap((event) => (event.at === at && event.output === 'wire' ? [event.bytes] : []))
const hex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex')

function framesAt(run: GraphRun, at: number): string[][] {
  return run
    .of('frame')
    .filter((frame) => frame.at === at)
    .map(({ changes }) =>
      changes.map(({ lamp, state }) =>
        state.on ? `${lamp} ${state.key}${state.strike ? ' struck' : ''} ${state.part}` : `${lamp} dark`,
      ),
    )
}

test('a note that stays on its lamp is not struck again, the others are, and all is one frame', () => {
  const run = playing([part(['reed', 'sedge', 'fern'])], [part(['reed', 'fern', 'moss'], { id: 'low' })])
  run.graph.play('keys', [...on(60), ...on(64), ...on(67)], 1000)
  run.graph.advance(1000)
  const notes = run.graph.lamps.map((lamp) => (lamp.on ? lamp.note : 0))
  run.graph.changeSong('dew', 2000)
  expect(framesAt(run, 2000)).toEqual([
    ['sedge dark', 'fern 64 struck low', 'moss 67 struck low', 'reed 60 low'],
  ])
  // Channel 1 (reed) hears nothing at all; channel 2 (sedge) the end of its note.
  expect(midiAt(run, 2000)).toEqual(['814040'])
  expect(serialAt(run, 2000)).toHaveLength(1)
  // The same strikes as before: ids 1, 2, 3.
  expect(notes).toEqual([3, 0, 1, 2])
  expect(run.graph.lamps.map((lamp) => (lamp.on ? lamp.note : 0))).toEqual([2, 3, 1, 0])
  run.graph.play('keys', [...off(60), ...off(64), ...off(67)], 3000)
  run.graph.advance(3000)
  expect(run.litLamps()).toEqual([])
  expect(replayLamps(validShow(glasshouse({ rig: rig() } as RawShow)), run.events).moments).toBeGreaterThan(3)
})

test('the same song by another name changes nothing: not one byte leaves', () => {
  const run = playing([part(['fern', 'reed'])], [part(['fern', 'reed'])])
  run.graph.play('keys', [...on(60), ...on(64)], 1000)
  run.graph.changeSong('dew', 2000)
  expect(run.events.filter(({ at, kind }) => at === 2000 && (kind === 'frame' || kind === 'bytes'))).toEqual(
    [],
  )
  expect(run.graph.song).toBe('dew')
})

test('in another tuning a lamp goes on at the new rate: bent, not struck, on MIDI; a set without dark on serial', () => {
  const tunings = [
    { id: 'even', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 440 },
    { id: 'low', kind: 'equal', steps: 12, periodCents: 1200, refNote: 69, refHz: 432 },
  ]
  const songs = [
    song('tide', [part(['fern', 'reed'])]),
    song('dew', [part(['fern', 'reed'])], { enter: 'carry', tuning: 'low' }),
  ]
  const show = validShow(glasshouse({ rig: rig(), songs, tunings } as RawShow))
  const run = new GraphRun(show)
  run.graph.play('keys', [...on(69), ...on(57)], 1000)
  run.graph.changeSong('dew', 2000)
  expect(framesAt(run, 2000)).toEqual([['fern 69 lead', 'reed 57 lead']])
  // 432 against 440 Hz is 31.767 cents down: with a range of 2 semitones 8192 - 8192 x 31.767 / 200 = 6891 (bend formula of MIDI 1.0).
  const bend = 6891
  expect(midiAt(run, 2000)).toEqual([hex(Uint8Array.of(0xe0, bend & 0x7f, bend >> 7))])
  const box = new LampBox('wire')
  for (const { bytes, output } of run.of('bytes')) if (output === 'wire') box.take(bytes)
  expect(serialAt(run, 2000)).toHaveLength(1)
  expect(box.slot(0).rate / 65536).toBeCloseTo(432, 1)
  replayLamps(show, run.events)
})

test('a lamp bent far keeps the key it sounds by, so that it is not struck either', () => {
  const outputs = [{ id: 'din', kind: 'midi', port: 'din', layout: 'channel-per-lamp', bendRange: 7 }]
  const lamps = [{ id: 'fern', output: 'din', slot: 0, supply: 'bench', watts: 10 }]
  const songs = [song('tide', [part(['fern'])]), song('dew', [part(['fern'])], { enter: 'carry', tempo: 90 })]
  const players = [{ id: 'keys', kind: 'keys', input: { port: 'Keybed' }, bendRange: 12 }]
  const show = validShow(glasshouse({ rig: rig({ outputs, lamps }), songs, players } as RawShow))
  const run = new GraphRun(show)
  run.graph.play('keys', on(60), 1000)
  run.graph.play('keys', [0xe0, 0x12, 0x57], 2000)
  run.graph.advance(2000)
  const [before] = run.graph.lamps
  run.graph.changeSong('dew', 3000)
  run.graph.play('keys', [0xe0, 0x13, 0x57], 4000)
  run.graph.play('keys', [0xe0, 0x12, 0x57], 5000)
  // Bends leave 4 ms apart.
  run.graph.advance(8000)
  const [after] = run.graph.lamps
  expect(midiAt(run, 3000)).toEqual([])
  const key = (drive: Drive | undefined): number => (drive?.kind === 'bend' ? drive.key : -1)
  expect(before?.on && key(before.drive)).toBe(60)
  expect(after).toEqual(before)
  expect(midiAt(run, 4000)).toHaveLength(1)
  expect(midiAt(run, 4000)[0]?.slice(0, 2)).toBe('e0')
})

test('cut: all dark in that moment, nothing held sounds, its ends are harmless, also of what a pedal held', () => {
  const songs = [song('tide', [part(['fern', 'reed'])]), song('dew', [part(['fern', 'reed'])])]
  const run = new GraphRun(validShow(glasshouse({ rig: rig(), songs } as RawShow)))
  run.graph.play('keys', [0xb0, 64, 127, ...on(60), ...on(64), ...off(64)], 1000)
  run.graph.changeSong('dew', 2000)
  expect(framesAt(run, 2000)).toEqual([['fern dark', 'reed dark']])
  run.graph.play('keys', off(60), 3000)
  run.graph.play('keys', [0xb0, 64, 0], 4000)
  run.graph.advance(5000)
  expect(run.of('frame').filter(({ at }) => at > 2000)).toEqual([])
  // The pedal went down in the song before and is still down in this one.
  const held = new GraphRun(validShow(glasshouse({ rig: rig(), songs } as RawShow)))
  held.graph.play('keys', [0xb0, 64, 127], 1000)
  held.graph.changeSong('dew', 2000)
  held.graph.play('keys', on(60), 3000)
  held.graph.play('keys', off(60), 4000)
  held.graph.advance(5000)
  expect(held.litLamps()).toEqual(['fern'])
})

test.each(['cut', 'carry'])('bends and duty that were set before hold after: %s', (enter) => {
  const duty = { base: 0.3, low: 0, high: 0.5, controller: 74 }
  const songs = [song('tide', [part(['fern'])]), song('dew', [part(['fern'], { duty })], { enter })]
  const run = new GraphRun(validShow(glasshouse({ rig: rig(), songs } as RawShow)))
  run.graph.play('keys', [0xb0, 74, 127, 0xe0, 0, 0], 1000)
  if (enter === 'carry') run.graph.play('keys', on(69), 1500)
  run.graph.changeSong('dew', 2000)
  if (enter === 'cut') run.graph.play('keys', on(69), 2500)
  run.graph.advance(3000)
  const [fern] = run.graph.lamps
  expect(fern?.on && fern.duty).toBeCloseTo(0.5, 9)
  // Two semitones down from 440 Hz: G4, 391.995 Hz.
  expect(fern?.on && fern.hz).toBeCloseTo(391.995, 2)
})

test('a held note that finds no lamp is over, and does not come when one frees; the pedal keeps what it kept', () => {
  const run = playing(
    [part(['fern', 'moss', 'reed'])],
    [part(['fern', 'moss'], { strategy: { kind: 'lowest-free', steal: 'none' } })],
  )
  run.graph.play('keys', [...on(60), 0xb0, 64, 127, ...on(64), ...off(64), ...on(67)], 1000)
  run.graph.changeSong('dew', 2000)
  expect(run.litLamps()).toEqual(['fern', 'moss'])
  run.graph.play('keys', [0xb0, 64, 0], 3000)
  run.graph.advance(3000)
  expect(run.litLamps()).toEqual(['fern'])
  run.graph.play('keys', off(60), 4000)
  run.graph.play('keys', off(67), 5000)
  run.graph.advance(5000)
  expect(run.litLamps()).toEqual([])
})

test('one voice takes the note it would choose, and when that ends the others do not return: they lit nothing', () => {
  const run = playing(
    [part(['fern', 'moss'])],
    [part(['fern', 'moss'], { strategy: { kind: 'unison', priority: 'high' } })],
  )
  run.graph.play('keys', [...on(60), ...on(64)], 1000)
  run.graph.changeSong('dew', 2000)
  // 64 sounds on moss already and goes on there; fern had 60.
  expect(framesAt(run, 2000)).toEqual([['fern 64 struck lead']])
  run.graph.play('keys', off(64), 3000)
  run.graph.advance(3000)
  expect(run.litLamps()).toEqual([])
})

test('the supply is never over its limit in the change, and what goes on has its power before what is struck', () => {
  const supplies = [{ id: 'bench', volts: 12, maxAmps: 2.1, usable: 0.8 }]
  const run = playing(
    [part(['fern'])],
    [part(['moss', 'reed'], { id: 'low' }), part(['fern'], { id: 'high' })],
    { rig: rig({ supplies }) },
  )
  // 12 V x 2.1 A x 0.8 = 20.16 W: two lamps of 10 W.
  run.graph.play('keys', on(60), 1000)
  run.graph.changeSong('dew', 2000)
  expect(framesAt(run, 2000)).toEqual([['fern 60 high', 'moss 60 struck low']])
  expect(run.of('refused')).toEqual([])
  run.graph.play('keys', on(64), 3000)
  run.graph.advance(3000)
  expect(run.of('refused').map(({ reason }) => reason)).toContain('supply')
})

test('lamps that are held back: what goes on does so at once, what is struck is late as ever, what waited is dropped', () => {
  const run = playing([part(['fern', 'moss'], { gapMs: 20 })], [part(['fern', 'reed'], { gapMs: 20 })], {
    rig: rig({}, { delayMs: 3 }),
  })
  run.graph.play('keys', [...on(60), ...on(64)], MS)
  run.graph.advance(10 * MS)
  // Waits for its gap, and would light moss at 33 ms.
  run.graph.play('keys', [...off(64), ...on(65)], 10 * MS)
  run.graph.changeSong('dew', 12 * MS)
  run.graph.advance(100 * MS)
  const lines = run.of('frame').map(({ at }) => [at / MS, ...framesAt(run, at).flat()].join(', '))
  expect(lines).toEqual([
    '4, fern 60 struck lead, moss 64 struck lead',
    '12, moss dark',
    '15, reed 65 struck lead',
  ])
  // The gap is counted from lamps that are lit: fern is.
  run.graph.play('keys', on(60), 200 * MS)
  run.graph.advance(300 * MS)
  expect(
    run
      .of('frame')
      .slice(3)
      .map(({ at }) => at / MS),
  ).toEqual([203, 223])
})

test('strategies that go by the clock begin theirs in the new song, and nothing of the old one wakes', () => {
  const clocked = { kind: 'travel', move: { everyMs: 10 } }
  const run = playing(
    [part(['fern', 'moss'], { strategy: clocked })],
    [part(['reed', 'sedge'], { strategy: clocked })],
  )
  run.graph.play('keys', on(60), 1000)
  run.graph.changeSong('dew', 6000)
  run.graph.advance(15_999)
  expect(run.litLamps()).toEqual(['reed'])
  run.graph.advance(16_000)
  expect(run.litLamps()).toEqual(['sedge'])
  run.graph.play('keys', off(60), 17_000)
  run.graph.advance(17_000)
  expect(run.graph.nextDue).toBe(Infinity)
  const echo = playing(
    [part(['fern', 'moss'], { strategy: { kind: 'canon', delayMs: 50 } })],
    [part(['reed'])],
  )
  echo.graph.play('keys', [...on(60), ...off(60)], 1000)
  echo.graph.play('keys', on(62), 2000)
  echo.graph.changeSong('dew', 3000)
  echo.graph.advance(200 * MS)
  expect(echo.litLamps()).toEqual(['reed'])
})

test('two players with the same note numbers are not taken for each other', () => {
  const players = [
    { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1] } },
    { id: 'bass', kind: 'keys', input: { port: 'Bass', channels: [2] } },
  ]
  const parts = (first: string, second: string): Part[] => [
    part(['reed'], { id: 'a', player: first }),
    part(['fern'], { id: 'b', player: second }),
  ]
  const run = playing(parts('keys', 'bass'), parts('bass', 'keys'), { players })
  run.graph.play('keys', on(60), 1000)
  run.graph.play('bass', on(60, 1), 1000)
  run.graph.changeSong('dew', 2000)
  expect(framesAt(run, 2000)).toEqual([['fern 60 struck b', 'reed 60 struck a']])
  expect(midiAt(run, 2000)).toEqual(['803c40', '903c64'])
})

test('a strings note and an open gate of a pad are carried too, and end as they would have', () => {
  const players = [{ id: 'keys', kind: 'pads', input: { port: 'Pads' }, gateMs: 30 }]
  const run = playing([part(['fern'])], [part(['fern'], { id: 'hit' })], { players })
  run.graph.play('keys', [...on(60), ...off(60)], 1000)
  run.graph.changeSong('dew', 11_000)
  expect(framesAt(run, 11_000)).toEqual([['fern 60 hit']])
  run.graph.advance(60 * MS)
  expect(run.of('frame').map(({ at }) => at)).toEqual([1000, 11_000, 31_000])
})

test('what the old song had still to decide when it ended is decided by nobody', () => {
  // Fern can sound D and no other key: 293.66 Hz is within 290 to 300.
  const lamps = [
    { id: 'fern', output: 'wire', slot: 0, supply: 'bench', watts: 10, lowHz: 290, highHz: 300 },
    { id: 'moss', output: 'wire', slot: 1, supply: 'bench', watts: 10 },
  ]
  const songs = [
    song('tide', [
      part(['fern'], { id: 'd', notes: [62, 62] }),
      part(['fern'], { id: 'waits', notes: [0, 61] }),
    ]),
    song('dew', [part(['moss'])], { enterAt: 'release' }),
  ]
  const switching = { controls: [{ player: 'keys', on: { kind: 'program' }, do: 'next' }] }
  const run = new GraphRun(validShow(glasshouse({ rig: rig({ lamps }), songs, switching } as RawShow)))
  run.graph.play('keys', on(62), 1000)
  run.graph.play('keys', on(60), 2000)
  run.graph.play('keys', [0xc0, 0], 3000)
  // D ends: the other part gains fern, tries its C there, and would be refused; but the song is over by then.
  run.graph.play('keys', off(62), 4000)
  run.graph.advance(5000)
  expect(run.of('song').map(({ at }) => at)).toEqual([4000])
  expect(run.of('refused')).toEqual([])
  expect(framesAt(run, 4000)).toEqual([['fern dark']])
})

test('a lamp that is lit to be found wins the note on it nothing over notes struck before', () => {
  const supplies = [{ id: 'bench', volts: 12, maxAmps: 2.1, usable: 0.8 }]
  const run = playing(
    [part(['fern'], { strategy: { kind: 'lowest-free', steal: 'none' } })],
    [part(['moss', 'sedge', 'reed'], { strategy: { kind: 'lowest-free', steal: 'none' } })],
    { rig: rig({ supplies }) },
  )
  run.graph.play('keys', [...on(60), ...on(64), ...on(67)], 1000)
  run.graph.find('reed', 2000)
  expect(run.litLamps()).toEqual(['fern', 'reed'])
  run.graph.changeSong('dew', 3000)
  expect(run.litLamps()).toEqual(['moss', 'sedge'])
})

test('a note that only the pedal holds is known to be let go in the new song too: it is the first to be stolen', () => {
  const run = playing([part(['fern', 'moss'])], [part(['reed', 'sedge'])])
  run.graph.play('keys', [0xb0, 64, 127, ...on(64), ...on(60), ...off(60)], 1000)
  run.graph.changeSong('dew', 2000)
  run.graph.play('keys', on(67), 3000)
  run.graph.advance(3000)
  expect(run.graph.lamps.map((lamp) => (lamp.on ? lamp.key : 0))).toEqual([0, 0, 64, 67])
})
