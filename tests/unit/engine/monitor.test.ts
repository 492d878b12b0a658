import { expect, test } from 'vitest'
import { Monitor } from '../../../app/engine/monitor.ts'
import { fromEngine } from '../../../src/contract/from-engine.ts'
import type { FromEngine } from '../../../src/contract/from-engine.ts'
import type { LampChange, LampState } from '../../../src/domain/lamp-state.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'
import { VirtualTimers } from '../../support/virtual-timers.ts'

const MS = 1_000

function show() {
  const lamp = (id: string, name: string, output: string, slot: number) => ({
    id,
    name,
    output,
    slot,
    supply: 'bench',
    watts: 10,
  })
  return validShow(
    glasshouse({
      rig: {
        supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
        outputs: [
          { id: 'wire', kind: 'serial', port: 'virtual' },
          { id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' },
        ],
        lamps: [
          lamp('fern', 'Fern', 'wire', 0),
          lamp('moss', 'Moss', 'wire', 1),
          lamp('reed', 'Reed', 'din', 0),
        ],
      },
      players: [
        { id: 'keys', kind: 'keys', input: { port: 'Stand', channels: [1] } },
        { id: 'pads', kind: 'pads', input: { port: 'Stand', channels: [10] } },
      ],
      songs: [
        {
          id: 'tide',
          title: 'Tide table',
          parts: [{ id: 'lead', player: 'keys', lamps: ['fern'], strategy: { kind: 'unison' } }],
        },
      ],
    } as never),
  )
}

function watching() {
  const timers = new VirtualTimers()
  const said: Extract<FromEngine, { type: 'monitor' }>[] = []
  const monitor = new Monitor(timers, (message) => {
    if (message.type !== 'monitor') throw new Error(message.type)
    // What is said keeps to the contract.
    said.push(fromEngine.parse(message) as typeof message)
  })
  monitor.follow(show())
  const heard = (...bytes: number[]): void =>
    monitor.note({
      kind: 'in',
      at: timers.now(),
      players: ['keys', 'pads'],
      bytes: Uint8Array.from(bytes),
    })
  const told = (): string[] =>
    said.flatMap(({ events }) => events.map(({ way, source, text }) => `${way} ${source}: ${text}`))
  return { timers, said, monitor, heard, told }
}

const LIT: LampState = {
  on: true,
  part: 'lead',
  player: 'keys',
  note: 1,
  key: 64,
  velocity: 90,
  hz: 329.6275569,
  realHz: 329.6255,
  cents: -0.0108,
  duty: 0.3,
  drive: { kind: 'timer', rate: 1, prescaler: 1, top: 1 },
  strike: true,
}
const change = (lamp: string, state: LampState): LampChange => ({ lamp, index: 0, state })

test('messages that came in are told in words, with their bytes, by the player that has the channel', () => {
  const { timers, said, monitor, heard, told } = watching()
  monitor.watch(true)
  heard(0x90, 64, 90)
  heard(0x99, 38, 120)
  heard(0xb4, 7, 100)
  heard(0xe0, 0, 0x40)
  heard(0xfe)
  timers.run(100 * MS)
  expect(told()).toEqual([
    'in keys: note-on E4 (64) velocity 90, channel 1',
    'in pads: note-on D2 (38) velocity 120, channel 10',
    'in keys: controller 7 value 100, channel 5; no player here has this channel',
    'in keys: bend 0, channel 1',
    'in keys: active sensing',
  ])
  expect(said[0]?.events.map(({ bytes }) => bytes)).toEqual([
    '90 40 5A',
    '99 26 78',
    'B4 07 64',
    'E0 00 40',
    'FE',
  ])
})

test('system exclusive in pieces is told when it is whole, and only its first bytes are written out', () => {
  const { timers, said, monitor, heard, told } = watching()
  monitor.watch(true)
  heard(0xf0, 0x7d, ...Array.from({ length: 40 }, () => 1))
  heard(2, 3, 0xf7)
  heard(0x40)
  timers.run(100 * MS)
  expect(told()).toEqual([
    'in keys: part of a longer message',
    'in keys: system exclusive, 45 bytes',
    expect.stringMatching(/^in keys: no message: .*\(1 byte lost\)$/u),
  ])
  expect(said[0]?.events[0]?.bytes).toMatch(/^F0 7D( 01){30} and 10 more$/u)
})

test('lamps, what their boxes are told, refusals, steals and diagnostics are told', () => {
  const { timers, monitor, told } = watching()
  monitor.watch(true)
  const at = timers.now()
  monitor.note({
    kind: 'frame',
    at,
    changes: [change('moss', { on: false }), change('fern', LIT), change('reed', { ...LIT, cents: 0 })],
  })
  const message = { type: 'note-on', channel: 1, key: 64, velocity: 100 } as const
  monitor.note({ kind: 'bytes', at, output: 'din', bytes: Uint8Array.of(0x90, 64, 100), message })
  monitor.note({ kind: 'refused', at, part: 'lead', note: 3, lamp: 'fern', reason: 'supply' })
  monitor.note({ kind: 'steal', at, part: 'lead', from: 1, to: 2 })
  monitor.note({ kind: 'exceeded', at, lamp: 'fern', supply: 'bench' })
  monitor.note({
    kind: 'diagnostic',
    at,
    diagnostic: { level: 'warning', source: 'player keys', code: 'malformed', message: 'three bytes lost' },
  })
  monitor.note({
    kind: 'player',
    at,
    player: 'pads',
    event: { kind: 'dropped', key: 38, channel: 10, why: 'mask' },
  })
  monitor.note({ kind: 'player', at, player: 'keys', event: { kind: 'all-off' } })
  timers.run(100 * MS)
  expect(told()).toEqual([
    'light moss: dark',
    'light fern: on, part lead, E4, 329.625 Hz (-0.01 cent), duty 0.30',
    'light reed: on, part lead, E4, 329.625 Hz (0.00 cent), duty 0.30',
    'out wire: Moss dark, Fern 329.6 Hz duty 0.30',
    'out din: note-on E4 (64) velocity 100, channel 1',
    'word lead: Fern not lit: its supply is at its limit',
    'word lead: a note gave up its lamp to a later one',
    'word bench: over its limit with Fern',
    'word player keys: warning: three bytes lost',
    'word pads: D2 (38) on channel 10 not taken for a note: a bounce',
  ])
})

test('pads are called by their names, where they have any', () => {
  const { timers, monitor, heard, told } = watching()
  const players = show().players.map((player) =>
    player.kind === 'pads' ? { ...player, pads: [{ key: 38, name: 'Snare' }] } : player,
  )
  monitor.follow({ ...show(), players })
  monitor.watch(true)
  heard(0x99, 38, 120)
  heard(0x99, 36, 120)
  heard(0x90, 38, 90)
  const event = { kind: 'dropped', key: 38, channel: 10, why: 'crosstalk', velocity: 9 } as const
  monitor.note({ kind: 'player', at: timers.now(), player: 'pads', event })
  timers.run(100 * MS)
  expect(told()).toEqual([
    'in pads: note-on Snare, D2 (38) velocity 120, channel 10',
    'in pads: note-on C2 (36) velocity 120, channel 10',
    'in keys: note-on D2 (38) velocity 90, channel 1',
    'word pads: Snare, D2 (38) on channel 10 not taken for a note: the stand shaking',
  ])
})

test('ten batches a second at most, 200 events each; the rest is counted', () => {
  const { timers, said, monitor, heard } = watching()
  monitor.watch(true)
  for (let count = 0; count < 1_000; count++) {
    heard(0x90, count % 128, 100)
    timers.run(MS)
  }
  timers.run(100 * MS)
  expect(said.length).toBeLessThanOrEqual(11)
  expect(said.reduce((sum, { events, left }) => sum + events.length + left, 0)).toBe(1_000)
  const before = said.length
  // 150 frames of two lamps and one output: 450 events.
  for (let count = 0; count < 150; count++)
    monitor.note({
      kind: 'frame',
      at: timers.now(),
      changes: [change('fern', LIT), change('moss', { on: false })],
    })
  for (let count = 0; count < 100; count++) heard(0x90, count, 100)
  timers.run(100 * MS)
  expect(said.slice(before).map(({ events, left }) => [events.length, left])).toEqual([[200, 350]])
  timers.run(1_000 * MS)
  expect(said).toHaveLength(before + 1)
})

test('nothing is said before watching begins and after it ends, and no timer is left', () => {
  const { timers, said, monitor, heard } = watching()
  expect(monitor.isOn).toBe(false)
  monitor.watch(true)
  heard(0x90, 64, 90)
  monitor.watch(false)
  expect([monitor.isOn, timers.size]).toEqual([false, 0])
  timers.run(500 * MS)
  monitor.watch(true)
  timers.run(500 * MS)
  expect(said).toEqual([])
})

test('another show: what was watched before is said first, with the names it had', () => {
  const { timers, monitor, told } = watching()
  monitor.watch(true)
  monitor.note({ kind: 'exceeded', at: timers.now(), lamp: 'fern', supply: 'bench' })
  monitor.follow(validShow(glasshouse()))
  expect(told()).toEqual(['word bench: over its limit with Fern'])
})
