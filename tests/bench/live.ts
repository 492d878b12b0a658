import { fork, spawn } from 'node:child_process'
import { once } from 'node:events'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { realSerial } from '../../app/engine/ports/serial-real.ts'
import { systemTimers } from '../../app/engine/ports/serial-timers.ts'
import { serveBox } from '../../app/engine/virtual-box/serve-box.ts'
import type { FromEngine } from '../../src/contract/from-engine.ts'
import type { ToEngineInput } from '../../src/contract/to-engine.ts'
import { CONTRACT_VERSION } from '../../src/contract/version.ts'
import { eventually } from '../support/eventually.ts'
import type { JackMidi } from '../support/jack-midi.ts'
import { startJackMidi } from '../support/jack-midi.ts'
import { end, folder, keepBusy, play, writeShow } from './live-rig.ts'
import { pause, RoundTrip } from './round-trip.ts'
import type { MeasuredSpread } from './spread.ts'
import { spreadOf } from './spread.ts'

const JITTER_SECONDS = 60
const TEMPO = 137.0625

/** A program that does nothing but pass messages on, with the same library: what Lanthorn is measured against. */
const PASS_THROUGH = `
const { Input, Output } = require(process.env.LANTHORN_MIDI_MODULE)
const input = new Input(), output = new Output()
input.ignoreTypes(false, false, false)
const place = (port, name) => { for (let i = 0; i < port.getPortCount(); i++) if (port.getPortName(i).includes(name)) return i; return -1 }
input.on('messageBuffer', (_, bytes) => output.sendMessage(bytes))
output.openPort(place(output, 'Return'))
input.openPort(place(input, 'Keybed'))
console.log('ready')
process.on('SIGINT', () => { input.destroy(); output.destroy(); process.exit(0) })
setInterval(() => {}, 1000)
`

interface Row extends MeasuredSpread {
  readonly what: string
  readonly lamps: number
  readonly machine: 'idle' | 'one core busy'
}

async function midiToMidi(jack: JackMidi, machine: Row['machine']): Promise<Row[]> {
  const { Input, Output } = jack.load()
  const source = new Output()
  source.openVirtualPort('Keybed')
  const back = new Input()
  back.ignoreTypes(false, false, false)
  const trip = new RoundTrip((bytes) => source.sendMessage(bytes))
  back.on('messageBuffer', (_, bytes) => {
    if (((bytes[0] ?? 0) & 0xf0) === 0x90) trip.arrived()
  })
  back.openVirtualPort('Return')

  const rows: Row[] = []
  const raw = spawn(process.execPath, ['-e', PASS_THROUGH], {
    env: { ...process.env, ...jack.env },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  await new Promise((resolve) => raw.stdout.once('data', resolve))
  await trip.run()
  rows.push({ what: 'raw pass-through, MIDI to MIDI', lamps: 0, machine, ...spreadOf(await trip.run()) })
  await end(raw)
  for (const lamps of [4, 16]) {
    const output = { kind: 'midi', port: 'Return', layout: 'channel-per-lamp' }
    const player = await play(writeShow({ lamps, output, strategy: { kind: 'lowest-free' } }), jack.env)
    await trip.run()
    rows.push({ what: 'Lanthorn, MIDI to MIDI', lamps, machine, ...spreadOf(await trip.run()) })
    await player.stop()
  }
  back.destroy()
  source.destroy()
  return rows
}

interface SerialRun {
  readonly near: string
  readonly onChange: (call: () => void) => void
  /** Valid frames that the box has heard. */
  readonly frames: () => number
  stop(): Promise<void>
}

/** A pty pair with a virtual lamp box at its far end. */
async function serialBox(lamps: number): Promise<SerialRun> {
  const [near, far] = [
    join(folder, `near-${lamps}-${Date.now()}`),
    join(folder, `far-${lamps}-${Date.now()}`),
  ]
  const socat = spawn('socat', [`pty,raw,echo=0,link=${near}`, `pty,raw,echo=0,link=${far}`], {
    stdio: 'ignore',
  })
  await pause(300)
  let call = (): void => {}
  const began = process.hrtime.bigint()
  const timers = systemTimers(() => Number((process.hrtime.bigint() - began) / 1000n))
  const served = await serveBox(realSerial, far, timers, {
    lamps,
    onChange: (_, lamp) => {
      if (lamp.on) call()
    },
  })
  return {
    near,
    frames: () => served.box.frames,
    onChange: (next) => {
      call = next
    },
    stop: async () => {
      await served.close()
      socat.kill('SIGKILL')
    },
  }
}

async function midiToSerial(
  jack: JackMidi,
  machine: Row['machine'],
): Promise<{ rows: Row[]; readyAfter: number[] }> {
  const { Output } = jack.load()
  const source = new Output()
  source.openVirtualPort('Keybed')
  const trip = new RoundTrip((bytes) => source.sendMessage(bytes))
  const rows: Row[] = []
  const readyAfter: number[] = []
  for (const lamps of [4, 16]) {
    const box = await serialBox(lamps)
    box.onChange(() => trip.arrived())
    const output = { kind: 'serial', port: box.near }
    const player = await play(writeShow({ lamps, output, strategy: { kind: 'lowest-free' } }), jack.env)
    readyAfter.push(Math.round(player.readyAfter))
    await trip.run()
    rows.push({ what: 'Lanthorn, MIDI to the box on a pty', lamps, machine, ...spreadOf(await trip.run()) })
    await player.stop()
    await box.stop()
  }
  source.destroy()
  return { rows, readyAfter }
}

/** How far each step of a 1/16 travel is from its place in the beat, at the far end of the wire. */
async function travelJitter(jack: JackMidi, machine: Row['machine']): Promise<Row[]> {
  const { Output } = jack.load()
  const source = new Output()
  source.openVirtualPort('Keybed')
  const box = await serialBox(4)
  const steps: number[] = []
  box.onChange(() => steps.push(performance.now()))
  const output = { kind: 'serial', port: box.near }
  const strategy = { kind: 'travel', move: { every: '1/16' } }
  const player = await play(writeShow({ lamps: 4, output, strategy, tempo: TEMPO }), jack.env)
  source.sendMessage(Buffer.of(0x90, 60, 100))
  await pause(JITTER_SECONDS * 1000)
  source.sendMessage(Buffer.of(0x80, 60, 64))
  await player.stop()
  await box.stop()
  source.destroy()
  const step = 60_000 / TEMPO / 4
  // The first is later by the way of the note-on; steps are measured from the second.
  const [, ...rest] = steps
  const offsets = rest.map((at, place) => at - place * step)
  const middle = [...offsets].sort((a, b) => a - b)[Math.floor(offsets.length / 2)] ?? 0
  const figures = player.said.findLast((message) => message.type === 'figures')
  const own = figures?.type === 'figures' ? figures.lateness : undefined
  const inMs = (micros = 0): number => micros / 1000
  const engine: Row = {
    what: 'the same, lateness by the engine itself',
    lamps: 4,
    machine,
    count: own?.count ?? 0,
    p50: inMs(own?.p50),
    p95: inMs(own?.p95),
    p99: inMs(own?.p99),
    max: inMs(own?.max),
  }
  const arrived: Row = {
    what: `1/16 travel at ${TEMPO}: distance from the grid`,
    lamps: 4,
    machine,
    ...spreadOf(offsets.map((at) => Math.abs(at - middle))),
  }
  return [engine, arrived]
}

/** From the word to the engine until a lit lamp of the box is dark. */
async function darkAllTime(machine: Row['machine']): Promise<Row> {
  const box = await serialBox(4)
  const times: number[] = []
  const engine = fork('dist/engine.js', [], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] })
  const said: FromEngine[] = []
  engine.on('message', (message) => said.push(message as FromEngine))
  const ask = (message: ToEngineInput): void => void engine.send(message)
  await eventually(() => said.some(({ type }) => type === 'hello'))
  const show = writeShow({
    lamps: 4,
    output: { kind: 'serial', port: box.near },
    strategy: { kind: 'unison' },
  })
  ask({ v: CONTRACT_VERSION, type: 'load', text: readFileSync(show, 'utf8'), rig: 'real' })
  await eventually(
    () => said.some((message) => message.type === 'port' && message.port.state === 'ready'),
    10_000,
  )
  await pause(500)
  for (let turn = 0; turn < 200; turn++) {
    const frames = box.frames()
    const asked = performance.now()
    ask({ v: CONTRACT_VERSION, type: 'dark-all' })
    await eventually(() => box.frames() > frames)
    times.push(performance.now() - asked)
    await pause(7)
  }
  ask({ v: CONTRACT_VERSION, type: 'stop' })
  await once(engine, 'exit')
  await box.stop()
  return { what: 'dark-all, from the word to a frame at the box', lamps: 4, machine, ...spreadOf(times) }
}

export async function benchLive(): Promise<void> {
  const jack = await startJackMidi()
  const rows: Row[] = []
  const ready: number[] = []
  for (const machine of ['idle', 'one core busy'] as const) {
    const rest = machine === 'idle' ? async () => {} : keepBusy()
    rows.push(...(await midiToMidi(jack, machine)))
    const serial = await midiToSerial(jack, machine)
    rows.push(...serial.rows)
    ready.push(...serial.readyAfter)
    rows.push(...(await travelJitter(jack, machine)))
    rows.push(await darkAllTime(machine))
    await rest()
  }
  await jack.stop()
  console.log('Live, over real ports on this machine; milliseconds')
  console.table(rows)
  const added = rows
    .filter(({ what }) => what === 'Lanthorn, MIDI to MIDI')
    .map((row) => {
      const raw = rows.find(({ what, machine }) => what.startsWith('raw') && machine === row.machine)
      return {
        lamps: row.lamps,
        machine: row.machine,
        addedP50: diff(row.p50, raw?.p50),
        addedP99: diff(row.p99, raw?.p99),
      }
    })
  console.log('What Lanthorn adds to the raw pass-through of the same run')
  console.table(added)
  console.log(`Start of play to ready: ${ready.join(', ')} ms`)
  console.log(JSON.stringify({ rows, added, ready }))
}

function diff(ours: number, raw = 0): number {
  return Math.round((ours - raw) * 1000) / 1000
}
