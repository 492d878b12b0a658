import { expect, test } from 'vitest'
import { GraphRun } from '../../support/graph-run.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const on = (key: number): number[] => [0x90, key, 100]
const off = (key: number): number[] => [0x80, key, 64]
const program = (number: number): number[] => [0xc0, number]
const SECOND = 1_000_000

const song = (id: string, more: RawShow = {}): RawShow => ({
  id,
  title: id,
  tempo: 120,
  parts: [{ id: 'lead', player: 'keys', lamps: ['fern', 'moss'], strategy: { kind: 'lowest-free' } }],
  ...more,
})

/** Program changes go to places; controller 80 to the next song, 81 to the one before, 82 to a variant; key 36 darkens. */
const CONTROLS: RawShow[] = [
  { player: 'keys', on: { kind: 'program' }, do: 'number' },
  { player: 'keys', on: { kind: 'controller', controller: 80 }, do: 'next' },
  { player: 'keys', on: { kind: 'controller', controller: 81 }, do: 'previous' },
  { player: 'keys', on: { kind: 'controller', controller: 82 }, do: 'variant' },
  { player: 'keys', on: { kind: 'note', key: 36 }, do: 'dark' },
]

function playing(songs: RawShow[], more: RawShow = {}, enterAt = 'now'): GraphRun {
  const switching = { enterAt, controls: CONTROLS }
  return new GraphRun(validShow(glasshouse({ songs, switching, ...more } as RawShow)))
}

/** What was said of songs, in order. */
function said(run: GraphRun): string[] {
  return run.events.flatMap((event) => {
    if (event.kind === 'song') return [`${event.at} ${event.place.song} ${event.place.position}`]
    if (event.kind === 'coming')
      return [
        `${event.at} ${event.place ? `${event.place.song} comes at ${event.enterAt}` : 'nothing comes'}`,
      ]
    return []
  })
}

const FOUR = ['tide', 'dew', 'mist', 'sun']

test('programs go to places, controllers to the next song and back, over what is skipped; at the ends nothing', () => {
  const run = playing(FOUR.map((id) => song(id, { skip: id === 'dew' })))
  const pedal = (controller: number, at: number): void => {
    run.graph.play('keys', [0xb0, controller, 127], at)
    run.graph.play('keys', [0xb0, controller, 0], at + 1)
  }
  pedal(80, 1000)
  pedal(80, 2000)
  pedal(80, 3000)
  pedal(81, 4000)
  run.graph.play('keys', program(1), 5000)
  pedal(81, 6000)
  pedal(81, 7000)
  run.graph.play('keys', program(9), 8000)
  run.graph.advance(9000)
  expect(said(run)).toEqual(['1000 mist 2', '2000 sun 3', '4000 mist 2', '5000 dew 1', '6000 tide 0'])
  expect(run.of('diagnostic').map(({ diagnostic }) => diagnostic.message)).toEqual([
    'place 10 was asked for, and the set list has 4 places',
  ])
})

test('variants follow each other in one place of the set list', () => {
  const run = playing([song('dew'), song('tide'), song('tide-short', { variantOf: 'tide' })], {
    setList: ['dew', 'tide'],
  })
  run.graph.play('keys', program(1), 1000)
  for (const at of [2000, 3000]) run.graph.play('keys', [0xb0, 82, 127, 0xb0, 82, 0], at)
  run.graph.play('keys', [0xb0, 82, 127, 0xb0, 81, 127], 4000)
  run.graph.advance(5000)
  expect(said(run)).toEqual(['1000 tide 1', '2000 tide-short 1', '3000 tide 1', '4000 dew 0'])
})

test('at a beat or bar of the song that plays, counted from when it began; on the beat at once', () => {
  // 97.0625 beats a minute: beat n comes 60,000,000 n / 97.0625 us after the beginning, to the nearest.
  const exact = (beats: number): number => Math.round((60e6 * beats) / 97.0625)
  const run = playing([
    song('tide', { tempo: 97.0625, beats: 3 }),
    song('dew', { tempo: 97.0625, enterAt: 'beat' }),
    song('mist', { enterAt: 'bar' }),
  ])
  run.graph.changeSong('dew', 777)
  run.graph.changeSong('tide', 1000)
  run.graph.play('keys', program(1), 5 * SECOND)
  run.graph.advance(6 * SECOND)
  const beat = 1000 + exact(9)
  expect(said(run).slice(2)).toEqual(['5000000 dew comes at beat', `${beat} nothing comes`, `${beat} dew 1`])
  // Four beats a bar, counted from where dew began.
  run.graph.play('keys', program(2), 500 * SECOND)
  const bar = beat + exact(4 * 200)
  run.graph.advance(bar)
  expect(said(run).slice(5)).toEqual(['500000000 mist comes at bar', `${bar} nothing comes`, `${bar} mist 2`])
  run.graph.changeSong('tide', bar + 1)
  run.graph.play('keys', program(2), bar + 1 + exact(3))
  run.graph.advance(bar + 1 + exact(3))
  expect(said(run).at(-1)).toBe(`${bar + 1 + exact(3)} mist 2`)
})

test('what is struck in the moment of a switch belongs to the new song, whatever came first', () => {
  const parts = (lamp: string): RawShow => ({
    parts: [{ id: lamp, player: 'keys', lamps: [lamp], strategy: { kind: 'unison' } }],
  })
  const run = playing([song('tide', parts('fern')), song('dew', parts('reed'))])
  run.graph.play('keys', [...on(60), ...program(1), ...on(62)], 1000)
  run.graph.advance(1000)
  expect(run.litLamps()).toEqual(['reed'])
  expect(run.of('frame').map(({ changes }) => changes.length)).toEqual([1])
  const bar = playing([song('tide', parts('fern')), song('dew', parts('reed'))], {}, 'beat')
  bar.graph.play('keys', program(1), 1000)
  bar.graph.play('keys', on(60), SECOND / 2 - 1)
  bar.graph.play('keys', on(64), SECOND / 2)
  bar.graph.advance(SECOND / 2)
  expect(bar.litLamps()).toEqual(['reed'])
  expect(bar.of('frame').map(({ at }) => at)).toEqual([SECOND / 2 - 1, SECOND / 2])
})

test('of several asks the last counts: in one moment, and while one waits; the song that plays cancels', () => {
  const run = playing(
    FOUR.map((id) => song(id)),
    {},
    'bar',
  )
  run.graph.play('keys', [...program(1), ...program(3), ...program(2)], 1000)
  run.graph.play('keys', program(3), 2000)
  run.graph.play('keys', program(3), 3000)
  run.graph.play('keys', program(0), 4000)
  run.graph.advance(3 * SECOND)
  expect(said(run)).toEqual(['1000 mist comes at bar', '2000 sun comes at bar', '4000 nothing comes'])
  expect(run.graph.song).toBe('tide')
  run.graph.play('keys', program(3), 3 * SECOND)
  run.graph.advance(3 * SECOND)
  run.graph.darkAll(3 * SECOND + 1)
  run.graph.advance(9 * SECOND)
  expect(said(run).slice(3)).toEqual(['3000000 sun comes at bar', '3000001 nothing comes'])
})

test('asked for from outside a second time it begins at once, and stay leaves things as they are', () => {
  const run = playing(
    FOUR.map((id) => song(id)),
    {},
    'bar',
  )
  run.graph.ask({ to: 'next' }, 1000)
  run.graph.stay(2000)
  run.graph.ask({ to: 'song', song: 'sun' }, 3000)
  expect(run.graph.coming).toEqual({ song: 'sun', position: 3 })
  run.graph.ask({ to: 'song', song: 'sun', position: 3 }, 4000)
  expect(said(run)).toEqual([
    '1000 dew comes at bar',
    '2000 nothing comes',
    '3000 sun comes at bar',
    '4000 nothing comes',
    '4000 sun 3',
  ])
  expect(() => run.graph.ask({ to: 'song', song: 'none' }, 5000)).toThrow(/Unknown song "none"/)
  run.graph.ask({ to: 'song', song: 'sun' }, 6000)
  expect(said(run)).toHaveLength(5)
})

test('with the last note: those that sounded when it was asked for count, later ones do not, and a pedal holds', () => {
  const run = playing(
    FOUR.map((id) => song(id)),
    {},
    'release',
  )
  run.graph.play('keys', program(1), 500)
  run.graph.play('keys', [...on(60), ...on(64), ...on(67)], 1000)
  // The third found no lamp: it took the first one's.
  run.graph.play('keys', program(2), 2000)
  run.graph.play('keys', [0xb0, 64, 127], 3000)
  run.graph.play('keys', off(67), 4000)
  run.graph.play('keys', off(64), 5000)
  run.graph.play('keys', on(72), 6000)
  run.graph.play('keys', [0xb0, 64, 0], 7000)
  run.graph.advance(8000)
  expect(said(run)).toEqual(['500 dew 1', '2000 mist comes at release', '7000 nothing comes', '7000 mist 2'])
  expect(run.litLamps()).toEqual([])
})

test('a player that is gone holds up no song, and what was held through a cut is not waited for', () => {
  const run = playing(
    FOUR.map((id) => song(id)),
    {},
    'release',
  )
  run.graph.play('keys', on(60), 1000)
  run.graph.play('keys', program(1), 2000)
  run.graph.silence('keys', 3000)
  expect(said(run).at(-1)).toBe('3000 dew 1')
  run.graph.play('keys', on(60), 4000)
  run.graph.changeSong('mist', 5000)
  run.graph.play('keys', program(3), 6000)
  run.graph.advance(6000)
  expect(said(run).at(-1)).toBe('6000 sun 3')
})

test('a control that darkens has the last word in its moment; a song that comes does not come then', () => {
  const run = playing(
    FOUR.map((id) => song(id)),
    {},
    'bar',
  )
  run.graph.play('keys', on(60), 1000)
  run.graph.play('keys', program(1), 1500)
  run.graph.advance(1500)
  run.events.length = 0
  run.graph.play('keys', [...on(36), ...on(67), ...off(36)], 2000)
  run.graph.advance(9 * SECOND)
  expect(run.litLamps()).toEqual([])
  expect(said(run)).toEqual(['2000 nothing comes'])
  const kinds = run.events.map(({ kind }) => kind)
  expect(kinds.indexOf('dark')).toBeLessThan(kinds.indexOf('bytes'))
  expect(run.of('frame').map(({ at }) => at)).toEqual([2000])
  // Of the darkening note nothing is left that could sound or end.
  run.graph.play('keys', [...on(62), ...off(60), ...off(67)], 10 * SECOND)
  run.graph.advance(10 * SECOND)
  expect(run.litLamps()).toEqual(['fern'])
})

test('a note that works a control sounds nowhere, not through a thru either', () => {
  const rig = {
    supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
    outputs: [{ id: 'din', kind: 'midi', port: 'Box', layout: 'channel-per-lamp' }],
    lamps: ['fern', 'moss'].map((id, slot) => ({ id, output: 'din', slot, supply: 'bench', watts: 10 })),
  }
  const thru = [{ player: 'keys', to: 'din', pass: ['notes', 'controllers'], channel: 16 }]
  const run = playing([song('tide'), song('dew')], { rig, thru } as RawShow)
  run.events.length = 0
  run.graph.play('keys', [...on(36), ...off(36), 0xb0, 80, 127, 0xb0, 80, 0, ...on(60)], 1000)
  run.graph.advance(1000)
  const sent = run.of('bytes').map(({ bytes }) => Buffer.from(bytes).toString('hex'))
  expect(sent).toContain('9f3c64')
  expect(sent.filter((hex) => hex.includes('24') || hex.startsWith('bf50'))).toEqual([])
  expect(run.of('control').map(({ act }) => act)).toEqual(['dark', 'next'])
})

test('controls of an edited show work from the edit on; what comes stays so at its place, or not where it is gone', () => {
  const songs = FOUR.map((id) => song(id))
  const run = playing(songs, {}, 'bar')
  const edited = (more: RawShow) => validShow(glasshouse({ songs, ...more } as RawShow))
  run.graph.play('keys', on(60), 1000)
  run.graph.play('keys', program(2), 2000)
  const controls = [{ player: 'keys', on: { kind: 'program', program: 7 }, do: 'next' }]
  expect(
    run.graph.revise(
      edited({ switching: { enterAt: 'now', controls }, setList: ['mist', 'tide', 'dew'] }),
      3000,
    ),
  ).toBe(false)
  expect(run.litLamps()).toEqual(['fern'])
  expect(run.graph.place).toEqual({ song: 'tide', position: 1 })
  expect(said(run).at(-1)).toBe('3000 mist comes at bar')
  run.graph.play('keys', program(2), 4000)
  run.graph.play('keys', program(7), 5000)
  run.graph.advance(5000)
  expect(said(run).slice(-2)).toEqual(['5000 nothing comes', '5000 dew 2'])
  const barred = playing(songs, {}, 'bar')
  barred.graph.play('keys', program(3), 1000)
  barred.graph.revise(validShow(glasshouse({ songs: songs.slice(0, 2) } as RawShow)), 2000)
  barred.graph.advance(9 * SECOND)
  expect(said(barred)).toEqual(['1000 sun comes at bar', '2000 nothing comes'])
})

test('a graph put down while a song comes, and with a control held, is taken up as it was', () => {
  const run = playing(
    FOUR.map((id) => song(id)),
    { setList: ['tide', 'dew', 'tide', 'sun'] },
    'bar',
  )
  run.graph.play('keys', [...program(2), 0xb0, 82, 127], 1000)
  run.graph.advance(1000)
  run.putDown()
  expect(run.graph.coming).toEqual({ song: 'tide', position: 2 })
  // Held down all the time: no second rise.
  run.graph.play('keys', [0xb0, 82, 127], 2000)
  run.graph.advance(2 * SECOND - 1)
  run.putDown()
  expect(run.graph.place).toEqual({ song: 'tide', position: 0 })
  run.graph.advance(2 * SECOND)
  run.putDown()
  expect(run.graph.place).toEqual({ song: 'tide', position: 2 })
  // Counted from where it began, two seconds a bar.
  run.graph.play('keys', program(3), 5 * SECOND)
  run.graph.advance(6 * SECOND)
  expect(said(run).slice(-2)).toEqual([`${6 * SECOND} nothing comes`, `${6 * SECOND} sun 3`])
  expect(run.of('control').map(({ act }) => act)).toEqual([{ place: 3 }, 'variant', { place: 4 }])
})
