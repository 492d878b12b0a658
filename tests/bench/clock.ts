import { spawn } from 'node:child_process'
import { performance } from 'node:perf_hooks'
import { startJackMidi } from '../support/jack-midi.ts'
import type { JackMidi } from '../support/jack-midi.ts'
import { end, keepBusy, play, writeShow } from './live-rig.ts'
import { pause } from './round-trip.ts'
import type { MeasuredSpread } from './spread.ts'
import { spreadOf } from './spread.ts'

const TEMPO = 137.1234
const SECONDS = 20
const INTERVAL = 60_000 / TEMPO / 24

interface Row extends MeasuredSpread {
  readonly what: string
  readonly machine: 'idle' | 'one core busy'
}

/** How far the times are from a grid that begins anywhere, in milliseconds. */
function offGrid(times: readonly number[]): MeasuredSpread {
  const offsets = times.map((at, place) => at - place * INTERVAL)
  const middle = [...offsets].sort((a, b) => a - b)[Math.floor(offsets.length / 2)] ?? 0
  return spreadOf(offsets.map((at) => Math.abs(at - middle)))
}

type Input = InstanceType<ReturnType<JackMidi['load']>['Input']>

/** Arrivals of clocks at a port of ours, by the time that this process hears of them. */
function listen(jack: JackMidi, open: (input: Input) => void): { times: number[]; stop: () => void } {
  const times: number[] = []
  const input = new (jack.load().Input)()
  input.ignoreTypes(false, false, false)
  input.on('messageBuffer', (_, bytes) => {
    if (bytes[0] === 0xf8) times.push(performance.now())
  })
  open(input)
  return { times, stop: () => input.destroy() }
}

/** A program that does nothing but send a clock with the same library, as punctually as a busy loop can: what the way through JACK makes of it is the way's. */
const PLAIN_SENDER = `
const { Output } = require(process.env.LANTHORN_MIDI_MODULE)
const output = new Output()
output.openVirtualPort('Plain')
const interval = Number(process.env.CLOCK_MS), clock = Buffer.of(0xf8)
const began = performance.now() + 1000
let count = 0
const next = () => {
  const due = began + count * interval
  const left = due - performance.now()
  if (left > 3) return setTimeout(next, left - 3)
  while (performance.now() < due);
  output.sendMessage(clock)
  count++
  setImmediate(next)
}
console.log('ready')
next()
process.on('SIGINT', () => { output.destroy(); process.exit(0) })
`

async function hop(jack: JackMidi): Promise<MeasuredSpread> {
  const sender = spawn(process.execPath, ['-e', PLAIN_SENDER], {
    env: { ...process.env, ...jack.env, CLOCK_MS: String(INTERVAL) },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  await new Promise((resolve) => sender.stdout.once('data', resolve))
  const heard = listen(jack, (input) => {
    for (let place = 0; place < input.getPortCount(); place++)
      if (input.getPortName(place).includes('Plain')) return input.openPort(place)
    throw new Error('the plain sender has no port')
  })
  await pause(1_500)
  const from = heard.times.length
  await pause(SECONDS * 1000)
  const times = heard.times.slice(from)
  await end(sender)
  heard.stop()
  return offGrid(times)
}

async function lanthorn(
  jack: JackMidi,
): Promise<{ arrived: MeasuredSpread; own: MeasuredSpread | undefined }> {
  const { Output } = jack.load()
  const keys = new Output()
  keys.openVirtualPort('Keybed')
  const box = listen(jack, (input) => input.openVirtualPort('Lamp box'))
  const output = { kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp' }
  const show = writeShow({
    lamps: 4,
    output,
    strategy: { kind: 'travel', move: { every: '1/16' } },
    tempo: TEMPO,
    clock: { send: ['Lamp box'] },
  })
  const player = await play(show, jack.env)
  await pause(1_000)
  // Lamps move on every sixteenth meanwhile, on the same port.
  keys.sendMessage(Buffer.of(0x90, 60, 100))
  const from = box.times.length
  await pause(SECONDS * 1000)
  const times = box.times.slice(from)
  const figures = player.said.findLast((message) => message.type === 'figures')
  await player.stop()
  box.stop()
  keys.destroy()
  const late = figures?.type === 'figures' ? figures.lateness : undefined
  const inMs = (micros: number): number => Math.round(micros) / 1000
  const own = late && {
    count: late.count,
    p50: inMs(late.p50),
    p95: inMs(late.p95),
    p99: inMs(late.p99),
    max: inMs(late.max),
  }
  return { arrived: offGrid(times), own }
}

/** Jitter of a MIDI clock that Lanthorn sends while lamps move on the same port, beside the jitter of the way itself. */
export async function benchClock(): Promise<void> {
  const jack = await startJackMidi()
  const rows: Row[] = []
  const ratios: Record<string, unknown>[] = []
  for (const machine of ['idle', 'one core busy'] as const) {
    const rest = machine === 'idle' ? async () => {} : keepBusy()
    const way = await hop(jack)
    const { arrived, own } = await lanthorn(jack)
    rows.push({ what: 'a plain sender over the same way', machine, ...way })
    rows.push({ what: `clock at ${TEMPO}: distance from the grid`, machine, ...arrived })
    if (own) rows.push({ what: 'the same, lateness by the engine itself', machine, ...own })
    ratios.push({ machine, p99ToPlain: Math.round((arrived.p99 / way.p99) * 100) / 100 })
    await rest()
  }
  await jack.stop()
  console.log('MIDI clock over JACK on this machine; milliseconds')
  console.table(rows)
  console.log(
    'p99 of the clock against p99 of the plain sender: the way through JACK, in cycles of 1.33 ms, is in both',
  )
  console.table(ratios)
  console.log(JSON.stringify({ rows, ratios }))
}
