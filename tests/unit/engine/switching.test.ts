import { expect, onTestFinished, test, vi } from 'vitest'
import { likelySongs } from '../../../app/engine/readiness.ts'
import { createPlayView } from '../../../app/cli/play-view.ts'
import { Graph } from '../../../src/graph/graph.ts'
import { startEngine } from '../../support/engine-run.ts'
import type { RawShow } from '../../support/shows.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000
const on = (key: number): Uint8Array => Uint8Array.of(0x90, key, 100)
const off = (key: number): Uint8Array => Uint8Array.of(0x80, key, 64)
const program = (number: number): Uint8Array => Uint8Array.of(0xc0, number)

const song = (id: string, lamps: string[], more: RawShow = {}): RawShow => ({
  id,
  title: id,
  parts: [{ id: 'lead', player: 'keys', lamps, strategy: { kind: 'lowest-free' } }],
  ...more,
})

const SONGS = [
  song('tide', ['fern', 'moss']),
  song('dew', ['sedge'], { enterAt: 'bar' }),
  song('mist', ['fern', 'reed'], { enter: 'carry' }),
  song('mist-short', ['reed'], { variantOf: 'mist' }),
]
const CONTROLS: RawShow[] = [
  { player: 'keys', on: { kind: 'program' }, do: 'number' },
  { player: 'keys', on: { kind: 'note', key: 36 }, do: 'dark' },
]

async function playing(more: RawShow = {}) {
  const raw = glasshouse({ songs: SONGS, switching: { controls: CONTROLS }, ...more } as RawShow)
  const run = startEngine(validShow(raw))
  const keybed = run.machine.midiIn.plug('input', 'Keybed')
  run.ask({ v: 1, type: 'load', text: JSON.stringify(raw), rig: 'real' })
  await run.machine.timers.pass(350 * MS)
  const pass = (ms: number): Promise<void> => run.machine.timers.pass(ms * MS)
  const lit = (): number[] =>
    (run.machine.boxes.get('wire')?.lamps() ?? []).flatMap((lamp, slot) => (lamp.on ? [slot] : []))
  const songs = (): string[] =>
    run.said.flatMap((word) => {
      if (word.type === 'song') return [`${word.song} ${word.position}`]
      if (word.type === 'coming')
        return [word.song === null ? 'nothing comes' : `${word.song} comes at ${word.enterAt}`]
      return []
    })
  return { ...run, raw, keybed, pass, lit, songs }
}

test('a program change changes the song; what was held goes on where the song says so', async () => {
  const { keybed, pass, lit, songs } = await playing()
  keybed.deliver(on(60))
  keybed.deliver(on(64))
  await pass(10)
  expect(lit()).toEqual([0, 1])
  keybed.deliver(program(2))
  await pass(10)
  expect(lit()).toEqual([0, 2])
  expect(songs()).toEqual(['mist 2'])
  keybed.deliver(program(0))
  await pass(10)
  expect(lit()).toEqual([])
  keybed.deliver(off(60))
  keybed.deliver(off(64))
  await pass(10)
  expect(songs()).toEqual(['mist 2', 'tide 0'])
})

test('asks from screens wait as the song says; asked again it begins at once; stay calls it off', async () => {
  const { ask, pass, songs, machine } = await playing()
  ask({ v: 1, type: 'go', to: 'next' })
  await pass(10)
  ask({ v: 1, type: 'stay' })
  ask({ v: 1, type: 'go', to: 'next' })
  ask({ v: 1, type: 'song', song: 'dew', position: 1 })
  expect(songs()).toEqual(['dew comes at bar', 'nothing comes', 'dew comes at bar', 'nothing comes', 'dew 1'])
  ask({ v: 1, type: 'song', song: 'mist' })
  ask({ v: 1, type: 'variant' })
  ask({ v: 1, type: 'go', to: 'next' })
  ask({ v: 1, type: 'go', to: 'previous' })
  expect(songs().slice(5)).toEqual(['mist 2', 'mist-short 2', 'dew comes at bar'])
  // Two seconds a bar at 120 beats a minute, from when the variant began.
  const began = machine.timers.now()
  await pass(1_999)
  expect(songs()).toHaveLength(8)
  await pass(2)
  expect(songs().slice(8)).toEqual(['nothing comes', 'dew 1'])
  expect(machine.timers.now() - began).toBe(2_001 * MS)
  ask({ v: 1, type: 'song', song: 'none' })
})

test('a song that comes is called off by dark-all, and so is one by a control that darkens', async () => {
  const { ask, keybed, pass, lit, songs, of, said } = await playing()
  keybed.deliver(on(60))
  keybed.deliver(program(1))
  ask({ v: 1, type: 'dark-all' })
  await pass(3_000)
  expect(songs()).toEqual(['dew comes at bar', 'nothing comes'])
  keybed.deliver(on(62))
  keybed.deliver(program(1))
  await pass(10)
  expect(lit()).toEqual([0])
  keybed.deliver(on(36))
  await pass(10)
  expect(lit()).toEqual([])
  expect(of('dark')).toHaveLength(2)
  keybed.deliver(off(36))
  await pass(3_000)
  expect(songs().slice(2)).toEqual(['dew comes at bar', 'nothing comes'])
  expect(lit()).toEqual([])
  expect(said.filter(({ type }) => type === 'diagnostic')).toEqual([])
})

test('controls of an edit work at once, on the same engine with the same ports, and what is held goes on', async () => {
  const { ask, keybed, pass, lit, songs, raw, machine, of } = await playing()
  keybed.deliver(on(60))
  await pass(10)
  const controls = [{ player: 'keys', on: { kind: 'controller', controller: 80 }, do: { song: 'mist' } }]
  ask({ v: 1, type: 'revise', text: JSON.stringify({ ...raw, switching: { controls } }) })
  keybed.deliver(program(1))
  await pass(10)
  expect(songs()).toEqual([])
  keybed.deliver(Uint8Array.of(0xb0, 80, 127))
  await pass(10)
  expect(songs()).toEqual(['mist 2'])
  expect(lit()).toEqual([0])
  expect(machine.serial.opens).toBe(1)
  expect(of('loaded')).toHaveLength(2)
})

test('a number beyond the set list is told, and nothing changes', async () => {
  const { keybed, pass, songs, of } = await playing()
  keybed.deliver(program(77))
  await pass(10)
  expect(songs()).toEqual([])
  expect(of('diagnostic').map(({ diagnostic }) => diagnostic.message)).toEqual([
    'place 78 was asked for, and the set list has 3 places',
  ])
})

test('changes of song are counted, and told to whoever watches', async () => {
  const { ask, keybed, pass, of } = await playing()
  ask({ v: 1, type: 'watch', monitor: true })
  keybed.deliver(program(2))
  keybed.deliver(program(1))
  await pass(1_100)
  const words = of('monitor').flatMap(({ events }) => events.filter(({ way }) => way === 'word'))
  expect(words.map(({ source, text }) => `${source}: ${text}`)).toEqual([
    'keys: control: place 3',
    'switching: song mist, place 3 begins',
    'keys: control: place 2',
    'switching: song dew, place 2 comes at the next bar',
  ])
  expect(of('figures').at(-1)?.counts).toMatchObject({ switches: 1, controls: 2 })
})

test('the songs that are made ready are those that may come next, the nearest first', () => {
  const show = (switching: RawShow) =>
    validShow(
      glasshouse({
        songs: [
          ...SONGS,
          song('sun', ['moss'], { skip: true }),
          song('rain', ['moss']),
          song('ice', ['moss']),
        ],
        setList: ['tide', 'dew', 'mist', 'sun', 'rain'],
        switching,
      } as RawShow),
    )
  const mist = { song: 'mist', position: 2 }
  expect(likelySongs(show({}), mist)).toEqual(['rain', 'dew', 'mist-short'])
  const controls = [
    { player: 'keys', on: { kind: 'program', program: 1 }, do: { song: 'ice' } },
    { player: 'keys', on: { kind: 'program', program: 2 }, do: { place: 1 } },
  ]
  expect(likelySongs(show({ controls }), mist)).toEqual(['rain', 'dew', 'mist-short', 'ice', 'tide'])
  expect(likelySongs(show({ controls: CONTROLS }), mist)).toEqual([
    'rain',
    'dew',
    'mist-short',
    'sun',
    'tide',
  ])
})

test('on a terminal it is said what comes and when, until it is there', () => {
  const view = createPlayView()
  const coming = (id: string | null, position: number | null) =>
    view.line({ v: 1, type: 'coming', song: id, position, enterAt: 'bar' })
  expect(coming('dew', 1)).toBe('song dew, place 2 comes at the next bar')
  expect(view.standing()[0]).toContain('(dew comes at the next bar)')
  expect(coming(null, null)).toBeUndefined()
  expect(view.line({ v: 1, type: 'song', song: 'dew', position: 1 })).toBe('song dew')
  expect(view.standing()[0]).not.toContain('comes')
})

test('songs are made ready one after the other while nothing happens, after a load, a change of song and an edit', async () => {
  const prepare = vi.spyOn(Graph.prototype, 'prepare')
  onTestFinished(() => prepare.mockRestore())
  const { keybed, pass, ask, raw } = await playing()
  const made = (): string[] => prepare.mock.calls.splice(0).map(([id]) => id)
  expect(made().slice(0, 2)).toEqual(['dew', 'mist'])
  keybed.deliver(program(2))
  // Not while it is handled, and not twice.
  expect(made()).toEqual([])
  await pass(10)
  expect(made().toSorted()).toEqual(['dew', 'mist-short', 'tide'])
  ask({ v: 1, type: 'revise', text: JSON.stringify({ ...raw, title: 'Second night' }) })
  expect(made()).toEqual([])
  await pass(10)
  expect(made().toSorted()).toEqual(['dew', 'mist-short', 'tide'])
  await pass(5_000)
  expect(made()).toEqual([])
})
