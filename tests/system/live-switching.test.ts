import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import type { NativeOutput } from '../../app/engine/ports/midi-module.ts'
import { eventually } from '../support/eventually.ts'
import type { JackMidi } from '../support/jack-midi.ts'
import { connected, startJackMidi } from '../support/jack-midi.ts'
import type { RunningLampBox } from '../support/lamp-box-firmware.ts'
import { startLampBox } from '../support/lamp-box-firmware.ts'
import { liveShow } from '../support/live-band.ts'
import { instrument, isFlashing, lastCycle, off, on, Quiet } from '../support/live-stage.ts'
import { edgesOf, levelAt, pulsesOf } from '../support/pin-edges.ts'
import type { PlayProcess } from '../support/play-process.ts'
import { startPlaying } from '../support/play-process.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

const CYCLES_A_MS = 16_000
const [FERN, MOSS, REED, SEDGE] = [0, 1, 2, 3]

let jack: JackMidi
beforeAll(async () => {
  jack = await startJackMidi()
}, 120_000)
afterAll(() => jack?.stop())

const program = (number: number): Buffer => Buffer.of(0xc0, number)

/** Two lamps of the firmware's box and two of a MIDI box (`orchid` on channel 1, `iris` on channel 2); programs are places. */
function showOf(pty: string): string {
  const lamp = (id: string, output: string, slot: number) => ({
    id,
    output,
    slot,
    supply: 'bench',
    watts: 10,
  })
  const song = (id: string, lamps: string[], more: object = {}) => ({
    id,
    title: id,
    parts: [{ id: 'lead', player: 'keys', lamps, strategy: { kind: 'lowest-free' }, duty: { base: 0.25 } }],
    ...more,
  })
  return liveShow(pty, {
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 10 }],
      outputs: [
        { id: 'wire', kind: 'serial', port: pty },
        { id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' },
      ],
      lamps: [
        ...['fern', 'moss', 'reed', 'sedge'].map((id, slot) => lamp(id, 'wire', slot)),
        lamp('orchid', 'din', 0),
        lamp('iris', 'din', 1),
      ],
    },
    songs: [
      song('tide', ['fern', 'moss', 'orchid', 'iris']),
      // Fern and orchid stay as they are, the others move.
      song('dew', ['fern', 'reed', 'orchid', 'sedge'], { enter: 'carry' }),
      song('mist', ['fern', 'orchid'], { enter: 'cut' }),
      song('sun', ['moss'], { enterAt: 'bar' }),
    ],
    switching: { controls: [{ player: 'keys', on: { kind: 'program' }, do: 'number' }] },
  })
}

interface Stage {
  readonly box: RunningLampBox
  readonly play: PlayProcess
  readonly keys: NativeOutput
  /** What the MIDI lamp box heard, as hexadecimal. */
  readonly heard: string[]
}

async function onStage(): Promise<Stage> {
  const box = await startLampBox()
  onTestFinished(() => box.stop())
  const keys = instrument(jack, 'Keybed')
  instrument(jack, 'Bass')
  const heard: string[] = []
  const lampBox = new (jack.load().Input)()
  lampBox.ignoreTypes(false, false, false)
  lampBox.on('messageBuffer', (_, message) => heard.push(Buffer.from(message).toString('hex')))
  lampBox.openVirtualPort('Lamp box')
  onTestFinished(() => lampBox.destroy())
  const play = await startPlaying(showOf(box.pty), jack.env)
  onTestFinished(async () => void (await play.interrupt()))
  await eventually(() => play.portState('keys') === 'open' && play.portState('din') === 'open', 10_000)
  await eventually(() => play.portState('wire') === 'ready', 10_000)
  await connected()
  return { box, play, keys, heard }
}

const songsOf = (play: PlayProcess): string[] =>
  play.of('song').map(({ song, position }) => `${song} ${position}`)

test(
  'a chord held, a program change, carry: lamps that go on do so without a gap, the others move, MIDI lamps hear no more than they must',
  REAL_PROCESSES,
  async () => {
    const { box, play, keys, heard } = await onStage()
    const quiet = new Quiet(box)
    for (const key of [60, 64, 67, 72]) keys.sendMessage(on(key))
    await eventually(() => [FERN, MOSS].every((slot) => isFlashing(box, slot, 0)), 5_000)
    await eventually(() => heard.includes('914864'), 3_000)
    const before = heard.length
    const asked = lastCycle(box)
    keys.sendMessage(program(1))
    // 60 stays on fern; 64 goes from moss to reed; 67 stays on orchid; 72 from iris to sedge.
    await eventually(() => [REED, SEDGE].every((slot) => isFlashing(box, slot, asked)), 5_000)
    await eventually(() => quiet.is(MOSS), 3_000)
    expect(songsOf(play)).toEqual(['dew 1'])
    expect(heard.slice(before)).toEqual(['814840'])
    expect(isFlashing(box, FERN, lastCycle(box) - 100 * CYCLES_A_MS)).toBe(true)
    // Fern never missed a pulse: from the program change on its periods are those of 60, 261.63 Hz, all of them.
    const periods = pulsesOf(box.pins(), FERN, asked - 50 * CYCLES_A_MS).map(({ period }) => period)
    expect(periods.length).toBeGreaterThan(20)
    for (const period of periods) expect(Math.abs(16e6 / period / 261.6256 - 1)).toBeLessThan(0.001)

    // Ends that come now end what they ended before: every lamp goes dark, and nothing else happens.
    for (const key of [60, 64, 67, 72]) keys.sendMessage(off(key))
    await eventually(() => [FERN, MOSS, REED, SEDGE].every((slot) => quiet.is(slot)), 3_000)
    await eventually(() => heard.slice(before).length === 2, 3_000)
    expect(heard.slice(before)).toEqual(['814840', '804340'])
  },
)

test(
  'a chord held, a program change, cut: all is dark at once, and the keys that come up end nothing',
  REAL_PROCESSES,
  async () => {
    const { box, play, keys, heard } = await onStage()
    const quiet = new Quiet(box)
    for (const key of [60, 64, 67, 72]) keys.sendMessage(on(key))
    await eventually(() => [FERN, MOSS].every((slot) => isFlashing(box, slot, 0)), 5_000)
    await eventually(() => heard.includes('914864'), 3_000)
    const before = heard.length
    keys.sendMessage(program(2))
    await eventually(() => [FERN, MOSS].every((slot) => quiet.is(slot)), 3_000)
    await eventually(() => heard.length === before + 2, 3_000)
    expect(heard.slice(before)).toEqual(['804340', '814840'])
    expect(songsOf(play)).toEqual(['mist 2'])
    const edges = edgesOf(box.pins(), FERN).length
    for (const key of [60, 64, 67, 72]) keys.sendMessage(off(key))
    // Then a new note, in the new song, from its first lamp on.
    const since = lastCycle(box) + 1
    keys.sendMessage(on(69))
    await eventually(() => isFlashing(box, FERN, since), 3_000)
    expect(heard).toHaveLength(before + 2)
    expect(edgesOf(box.pins(), FERN).length).toBeGreaterThan(edges)
    keys.sendMessage(off(69))
    await eventually(() => quiet.is(FERN), 3_000)
    expect([FERN, MOSS, REED, SEDGE].map((slot) => levelAt(box.pins(), slot, Infinity))).toEqual([0, 0, 0, 0])
  },
)

test(
  'a song that comes at the bar is told, and begins there; a program that is no place is told and changes nothing',
  REAL_PROCESSES,
  async () => {
    const { play, keys } = await onStage()
    keys.sendMessage(program(3))
    await eventually(() => play.of('coming').length === 2, 5_000)
    expect(play.of('coming').map(({ song, enterAt }) => `${song} ${enterAt}`)).toEqual([
      'sun bar',
      'null bar',
    ])
    await eventually(() => songsOf(play).length === 1, 3_000)
    expect(songsOf(play)).toEqual(['sun 3'])
    keys.sendMessage(program(9))
    await eventually(
      () => play.of('diagnostic').some(({ diagnostic }) => diagnostic.code === 'no-place'),
      3_000,
    )
    expect(songsOf(play)).toEqual(['sun 3'])
  },
)
