import { readFileSync } from 'node:fs'
import { parseMidi } from 'midi-file'
import { expect, test } from 'vitest'
import { DemoPlayers } from '../../../app/engine/demo-players.ts'
import type { Diagnostic } from '../../../src/domain/diagnostic.ts'
import type { MidiMessage } from '../../../src/domain/midi-message.ts'
import type { Show } from '../../../src/domain/show.ts'
import { writeMidiFile } from '../../../src/midi/file-write.ts'
import { DEMO_TAKE, demoShow } from '../../support/demo.ts'
import { toHex } from '../../support/hex.ts'
import { MemoryMachine } from '../../support/memory-machine.ts'
import { glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const MS = 1_000
const BEAT = 500_000

interface Heard {
  readonly port: string
  readonly at: number
  readonly bytes: string
}

/** Demo players on a machine in memory; every port that they have is listened to. */
function playing(show: Show, take: Uint8Array | string) {
  const machine = new MemoryMachine(show)
  const reports: Diagnostic[] = []
  const players = new DemoPlayers({
    take: typeof take === 'string' ? take : Buffer.from(take).toString('base64'),
    machine,
    report: (diagnostic) => reports.push(diagnostic),
  })
  const heard: Heard[] = []
  const listen = (): void =>
    players.midiIn.inputs().forEach((port, place) => {
      players.midiIn.openInput(place, (bytes) =>
        heard.push({ port, at: machine.timers.now(), bytes: toHex(bytes) }),
      )
    })
  const since = (at: number): string[] => heard.map((one) => `${one.at - at} ${one.port} ${one.bytes}`)
  return { machine, players, reports, heard, listen, since }
}

/** A trio at the usual 120 beats a minute, one beat long unless its events go on. */
function trio(
  tracks: Record<string, readonly (readonly [at: number, message: MidiMessage])[]>,
  endsAt = BEAT,
) {
  return writeMidiFile({
    division: 480,
    tempo: 120,
    tracks: Object.entries(tracks).map(([name, events]) => ({
      name,
      events: events.map(([at, message]) => ({ at, message })),
    })),
    endsAt,
  })
}

const on = (key: number, channel = 1): MidiMessage => ({ type: 'note-on', channel, key, velocity: 100 })
const off = (key: number, channel = 1): MidiMessage => ({ type: 'note-off', channel, key, velocity: 64 })

function duo() {
  return validShow(
    glasshouse({
      players: [
        { id: 'keys', kind: 'keys', input: { port: 'Keybed', channels: [1] } },
        { id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] } },
      ],
    }),
  )
}

/** The notes of a file as another reader sees them (midi-file): microseconds, port, bytes without the channel. */
function notesByMidiFile(bytes: Uint8Array, ports: Readonly<Record<string, string>>): string[] {
  const { header, tracks } = parseMidi(bytes)
  const ticksPerBeat = header.ticksPerBeat ?? 0
  const tempos = tracks
    .flat()
    .flatMap((event) => (event.type === 'setTempo' ? [event.microsecondsPerBeat] : []))
  expect(tempos).toHaveLength(1)
  const [beat = 0] = tempos
  return tracks.flatMap((events) => {
    const name = events.flatMap((event) => (event.type === 'trackName' ? [event.text] : []))[0] ?? ''
    let tick = 0
    return events.flatMap((event) => {
      tick += event.deltaTime
      if (event.type !== 'noteOn' && event.type !== 'noteOff') return []
      const at = Math.round((tick * beat) / ticksPerBeat)
      return [`${at} ${ports[name]} ${event.type} ${event.noteNumber} ${event.velocity}`]
    })
  })
}

test('the demo: the notes heard on the ports are the notes of the file, at their times', () => {
  const show = demoShow()
  const file = readFileSync(DEMO_TAKE)
  const { machine, players, reports, heard, listen } = playing(show, file)
  players.start(show)
  expect(players.midiIn.inputs().toSorted()).toEqual(['Bass', 'Keybed', 'Pads'])
  listen()
  const begun = machine.timers.now() + 20 * MS
  machine.timers.runUntil(begun + 70_000 * MS)
  const notes = heard.flatMap(({ at, port, bytes }) => {
    const [status = 0, key, velocity] = Buffer.from(bytes, 'hex')
    const type = status >> 4 === 9 ? 'noteOn' : status >> 4 === 8 ? 'noteOff' : undefined
    return type ? [`${at - begun} ${port} ${type} ${key} ${velocity}`] : []
  })
  const reference = notesByMidiFile(file, { keys: 'Keybed', pads: 'Pads', bass: 'Bass' })
  expect(notes.toSorted()).toEqual(reference.toSorted())
  expect(notes.length).toBeGreaterThan(500)
  expect(reports).toEqual([])
})

test('at the end everything held ends, then come two beats of rest, then the take begins again', () => {
  const take = trio({
    keys: [
      [0, on(60)],
      [0, { type: 'controller', channel: 1, controller: 64, value: 127 }],
      [BEAT / 2, on(64)],
      [BEAT / 2, { type: 'bend', channel: 1, value: 9000 }],
      [BEAT, off(60)],
    ],
  })
  const { machine, players, listen, since } = playing(duo(), take)
  players.start(duo())
  listen()
  const begun = machine.timers.now() + 20 * MS
  machine.timers.runUntil(begun + 4 * BEAT)
  const once = ['0 Keybed 903c64', '0 Keybed b0407f', '250000 Keybed 904064', '250000 Keybed e02846']
  const ends = [
    '500000 Keybed 803c40',
    '500000 Keybed 804040',
    '500000 Keybed b04000',
    '500000 Keybed e00040',
  ]
  const later = (lines: readonly string[]) =>
    lines.map((line) => line.replace(/^\d+/u, (at) => `${Number(at) + 3 * BEAT}`))
  expect(since(begun)).toEqual([...once, ...ends, ...later(once), ...later(ends)])
})

test('tracks feed players as they do in render; a track on channels that its player has not is moved to those', () => {
  const take = trio({
    Pads: [[0, on(36, 1)]],
    nobody: [
      [1000, on(60, 1)],
      [2000, on(38, 10)],
      [3000, on(62, 7)],
    ],
  })
  const { machine, players, reports, listen, since } = playing(duo(), take)
  players.start(duo())
  listen()
  const begun = machine.timers.now() + 20 * MS
  machine.timers.runUntil(begun + 10 * MS)
  expect(since(begun).map((line) => line.replace(/^\S+ /u, ''))).toEqual([
    'Pads 992464',
    'Keybed 903c64',
    'Pads 992664',
  ])
  expect(reports.map(({ level, message }) => [level, message])).toEqual([
    ['warning', expect.stringContaining('1 note on channel 7 feed no player')],
  ])
})

test('the take waits until its ports are listened to, three seconds at most', () => {
  const take = trio({ keys: [[0, on(60)]] })
  const { machine, players, heard, listen } = playing(duo(), take)
  players.start(duo())
  machine.timers.run(1_500 * MS)
  listen()
  machine.timers.run(20 * MS)
  expect(heard.map(({ bytes }) => bytes)).toEqual(['903c64'])

  const alone = playing(duo(), take)
  alone.players.start(duo())
  alone.machine.timers.run(3_000 * MS)
  alone.listen()
  alone.machine.timers.run(500 * MS)
  expect(alone.heard.map(({ bytes }) => bytes)).toEqual(['803c40'])
})

test('sleep ends what is held and nothing is played until awake, then from the top', () => {
  const take = trio({
    keys: [
      [0, on(60)],
      [BEAT / 2, on(62)],
    ],
  })
  const { machine, players, heard, listen } = playing(duo(), take)
  players.start(duo())
  listen()
  machine.timers.run(20 * MS)
  players.sleep()
  machine.timers.run(60_000 * MS)
  expect(heard.map(({ bytes }) => bytes)).toEqual(['903c64', '803c40'])
  players.awake()
  machine.timers.run(20 * MS)
  expect(heard.map(({ bytes }) => bytes).slice(2)).toEqual(['903c64'])
})

test('a machine that was away makes up for nothing: what is held ends, then from the top', () => {
  const events = Array.from({ length: 100 }, (_, index) => [index * BEAT, on(20 + index)] as const)
  const { machine, players, heard, listen } = playing(duo(), trio({ keys: events }, 100 * BEAT))
  players.start(duo())
  listen()
  machine.timers.run(20 * MS)
  machine.timers.skip(30_000 * MS)
  machine.timers.run(0)
  expect(heard.map(({ bytes }) => bytes)).toEqual(['901464', '801440', '901464'])
})

test('the same players again change nothing; other players: from the top on their ports, and ports that stay keep their listeners', () => {
  const take = trio({ keys: [[0, on(60)]], pads: [[0, on(36, 10)]] }, 10 * BEAT)
  const { machine, players, heard, listen } = playing(duo(), take)
  players.start(duo())
  listen()
  machine.timers.run(20 * MS)
  heard.length = 0
  players.start({ ...duo(), title: 'Another' })
  machine.timers.run(BEAT)
  expect(heard).toEqual([])
  const moved = duo().players.map((player) =>
    player.id === 'pads' ? { ...player, input: { ...player.input, port: 'Drum table' } } : player,
  )
  players.start({ ...duo(), players: moved })
  expect(heard.map(({ port, bytes }) => `${port} ${bytes}`)).toEqual(['Keybed 803c40', 'Pads 892440'])
  expect(players.midiIn.inputs()).toEqual(['Keybed', 'Drum table'])
  expect([players.plays('Drum table'), players.plays('Pads')]).toEqual([true, false])
  players.midiIn.openInput(1, (bytes) => heard.push({ port: 'Drum table', at: 0, bytes: toHex(bytes) }))
  machine.timers.run(20 * MS)
  expect(heard.slice(2).map(({ port, bytes }) => `${port} ${bytes}`)).toEqual([
    'Keybed 903c64',
    'Drum table 992464',
  ])
})

test.each([
  ['no base64', 'glasshouse!', /not in base64/u],
  ['not a Standard MIDI File', Buffer.from('a leaf').toString('base64'), /plays without the take/u],
  ['nothing at all', '', /plays without the take/u],
])('%s is told as a fault, and the machine’s own ports are there', (_, take, words) => {
  const { machine, players, reports, heard } = playing(duo(), take)
  machine.midiIn.plug('input', 'Keybed')
  players.start(duo())
  machine.timers.run(10_000 * MS)
  expect(reports).toEqual([
    { level: 'fault', source: 'take', code: 'take-unreadable', message: expect.stringMatching(words) },
  ])
  expect(players.midiIn.inputs()).toEqual(['Keybed'])
  expect(heard).toEqual([])
})

test('a take with nothing for the show’s players is told, and keeps nobody busy', () => {
  const { machine, players, reports } = playing(duo(), trio({ nobody: [[0, on(60, 7)]] }))
  players.start(duo())
  expect(reports.map(({ message }) => message).at(-1)).toBe(
    'nothing in the take is for a player of this show',
  )
  expect([players.midiIn.inputs(), machine.timers.size]).toEqual([[], 0])
})

test('stop ends what is held and takes the ports away', () => {
  const { machine, players, heard, listen } = playing(duo(), trio({ keys: [[0, on(60)]] }))
  players.start(duo())
  listen()
  machine.timers.run(20 * MS)
  players.stop()
  expect(heard.map(({ bytes }) => bytes)).toEqual(['903c64', '803c40'])
  expect([players.midiIn.inputs(), machine.timers.size]).toEqual([[], 0])
})
