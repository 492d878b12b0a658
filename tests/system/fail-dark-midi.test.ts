import { fork } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import { eventually } from '../support/eventually.ts'
import { type RunningLampBox, startLampBox } from '../support/lamp-box-firmware.ts'
import { MidiLamps } from '../support/lamp-box-midi.ts'
import { A_MS, allLow, framesTo, pause, WATCHDOG_MS } from '../support/lamp-box-stage.ts'
import { liveShow } from '../support/live-band.ts'
import { isFlashing, lastCycle } from '../support/live-stage.ts'
import { type PlayProcess, startPlaying } from '../support/play-process.ts'
import { REAL_PROCESSES } from '../support/real-processes.ts'

// The weak case: MIDI has no sign of life, so a box at its end keeps a lamp lit until somebody says that it ends. Here every key lights one there, and beside
// it one of the firmware, which goes dark by itself.

const ENGINE = resolve(import.meta.dirname, '../../dist/engine.js')
const FERN = 0

interface Stage {
  readonly box: RunningLampBox
  readonly lamps: MidiLamps
  readonly show: string
}

async function stage(): Promise<Stage> {
  const box = await startLampBox()
  onTestFinished(() => box.stop())
  const lamp = (id: string, output: string) => ({ id, output, slot: 0, supply: 'bench', watts: 10 })
  const part = { id: 'lead', player: 'keys', lamps: ['fern', 'orchid'], strategy: { kind: 'unison' } }
  const show = liveShow(box.pty, {
    rig: {
      supplies: [{ id: 'bench', volts: 12, maxAmps: 10 }],
      outputs: [
        { id: 'wire', kind: 'serial', port: box.pty },
        { id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' },
      ],
      lamps: [lamp('fern', 'wire'), lamp('orchid', 'din')],
    },
    players: [{ id: 'keys', kind: 'keys', input: { port: 'Keybed' } }],
    songs: [{ id: 'tide', title: 'Tide table', parts: [part] }],
  })
  return { box, lamps: new MidiLamps('Keybed', 'Lamp box'), show }
}

async function playing() {
  const all = await stage()
  const play = await startPlaying(all.show, all.lamps.env)
  onTestFinished(async () => void (await play.interrupt()))
  await eventually(() => isReady(play), 15_000)
  return { ...all, play }
}

function isReady(play: PlayProcess): boolean {
  const is = (id: string, state: string): boolean => play.portState(id) === state
  return is('keys', 'open') && is('wire', 'ready') && is('din', 'open')
}

/** A key held: both lamps lit. */
async function hold({ lamps, box }: Stage): Promise<void> {
  const since = lastCycle(box) + 1
  lamps.play(0x80, 69, 64)
  lamps.play(0x90, 69, 100)
  await eventually(() => lamps.lit.size === 1 && isFlashing(box, FERN, since), 5_000)
}

/** How long after `from` the lamp on MIDI went dark, in words for who reads the test's output. */
function darkAfter({ lamps }: Stage, from: number): string {
  const end = lamps.heard.find(({ at, hex }) => at >= from && /^(8|b.7[8b])/.test(hex))
  return `the lamp on MIDI dark ${(end?.at ?? NaN) - from} ms later`
}

test(
  'an engine that hangs or is killed: by wire dark in 500 ms, by MIDI lit until the next engine ends it',
  REAL_PROCESSES,
  async () => {
    const all = await playing()
    const { box, lamps, play } = all
    await hold(all)
    const hungAt = Date.now()
    process.kill(play.enginePid(), 'SIGSTOP')
    // It is not given up before 2 s.
    await pause(1_500)
    expect(allLow(box)).toBe(true)
    expect(lamps.lit.size).toBe(1)
    await eventually(() => lamps.lit.size === 0, 10_000)
    console.log(`engine hung: ${darkAfter(all, hungAt)}`)

    await eventually(() => play.of('hello').length === 2 && isReady(play), 10_000)
    await hold(all)
    const heard = lamps.heard.length
    const killedAt = Date.now()
    process.kill(play.enginePid(), 'SIGKILL')
    await eventually(() => lamps.lit.size === 0, 10_000)
    console.log(`engine killed: ${darkAfter(all, killedAt)}`)
    // All sound off, before anything else.
    expect(lamps.heard[heard]?.hex).toBe('b07800')
  },
)

test(
  'the cable of a MIDI box: its lamp stays lit, whatever is played; plugged in again it is darkened, although the note ended meanwhile; so it is by an engine whose program is killed',
  REAL_PROCESSES,
  async () => {
    const all = await playing()
    const { lamps, play } = all
    await hold(all)
    lamps.pull()
    await eventually(() => play.portState('din') === 'lost', 5_000)
    lamps.play(0x80, 69, 64)
    await pause(500)
    expect(lamps.lit.size).toBe(1)
    lamps.plug()
    await eventually(() => lamps.lit.size === 0, 5_000)
    await eventually(() => play.portState('din') === 'open', 5_000)
    await pause(300)
    expect(lamps.lit.size).toBe(0)

    // The program killed, and not its engine: that darkens, and ends.
    await hold(all)
    const killedAt = Date.now()
    process.kill(play.pid, 'SIGKILL')
    await eventually(() => lamps.lit.size === 0, 5_000)
    console.log(`program killed: ${darkAfter(all, killedAt)}`)
  },
)

test(
  'everything held still unannounced: by MIDI lit all the while, dark when it goes on; everything killed: lit until a program is started again',
  REAL_PROCESSES,
  async () => {
    const all = await playing()
    const { box, lamps, play } = all
    await hold(all)
    const group = [play.pid, play.enginePid()]
    for (const pid of group) process.kill(pid, 'SIGSTOP')
    await pause(3_500)
    expect(allLow(box)).toBe(true)
    expect(lamps.lit.size).toBe(1)
    const wentOn = Date.now()
    for (const pid of group) process.kill(pid, 'SIGCONT')
    await eventually(() => lamps.lit.size === 0, 5_000)
    console.log(`went on: ${darkAfter(all, wentOn)}`)

    await hold(all)
    for (const pid of group) process.kill(pid, 'SIGKILL')
    await pause(1_000)
    expect(allLow(box)).toBe(true)
    expect(lamps.lit.size).toBe(1)
    const again = await startPlaying(all.show, lamps.env)
    onTestFinished(async () => void (await again.interrupt()))
    await eventually(() => lamps.lit.size === 0, 10_000)
  },
)

test(
  'a sleep that is announced: dark by wire and by MIDI at once, before the machine sleeps; awake nothing lights by itself',
  REAL_PROCESSES,
  async () => {
    const all = await stage()
    const { box, lamps, show } = all
    const engine = fork(ENGINE, [], {
      env: { ...process.env, ...lamps.env },
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    })
    onTestFinished(() => void engine.kill('SIGKILL'))
    const said: FromEngine[] = []
    engine.on('message', (message) => said.push(message as FromEngine))
    const is = (id: string, state: string): boolean =>
      said.some((one) => one.type === 'port' && one.port.id === id && one.port.state === state)
    engine.send({ v: 1, type: 'load', text: readFileSync(show, 'utf8'), rig: 'real' })
    await eventually(() => is('keys', 'open') && is('wire', 'ready') && is('din', 'open'), 15_000)
    await hold(all)
    const asked = lastCycle(box)
    const askedAt = Date.now()
    engine.send({ v: 1, type: 'sleep' })
    const saidDark = (): boolean =>
      framesTo(box).some(({ frame, cycle }) => frame.type === 'dark' && cycle > asked)
    await eventually(() => lamps.lit.size === 0 && saidDark(), 5_000)
    await pause(100)
    const dark = lastCycle(box)
    console.log(
      `sleep announced: by wire dark ${((dark - asked) / A_MS).toFixed(1)} ms later, ${darkAfter(all, askedAt)}`,
    )
    expect(allLow(box)).toBe(true)
    expect(dark - asked).toBeLessThan(WATCHDOG_MS * A_MS)
    lamps.play(0x90, 71, 100)
    await pause(200)
    engine.send({ v: 1, type: 'awake' })
    await pause(1_000)
    expect(lamps.lit.size).toBe(0)
    expect(lastCycle(box)).toBe(dark)
  },
)
