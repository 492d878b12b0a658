import { spawn } from 'node:child_process'
import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { enter } from '../support/caller.ts'
import { startChromium } from '../support/chromium.ts'
import { eventually } from '../support/eventually.ts'
import { startJackMidi } from '../support/jack-midi.ts'
import { end, writeShow } from './live-rig.ts'
import { RoundTrip } from './round-trip.ts'
import { spreadOf } from './spread.ts'

const COMMAND = resolve(process.cwd(), 'app/cli/lanthorn.mjs')
const LAMPS = 16
const ROUNDS = 4

/**
 * Notes through `lanthorn open`, port to port, by turns with no screen, with two screens that are drawn elsewhere (what we do for them, as for tablets), and with two
 * Stages that a browser draws on the same cores; prints the spreads and their ratios.
 */
export async function benchScreensLatency(): Promise<void> {
  const jack = await startJackMidi()
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
  const output = { kind: 'midi', port: 'Return', layout: 'channel-per-lamp' }
  const show = writeShow({ lamps: LAMPS, output, strategy: { kind: 'lowest-free' } })
  const child = spawn(process.execPath, [COMMAND, 'open', show, '--no-browser', '--port', '0'], {
    env: {
      ...process.env,
      ...jack.env,
      LANTHORN_STATE: mkdtempSync(join(tmpdir(), 'lanthorn-bench-state-')),
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  let out = ''
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text))
  const address = (): RegExpExecArray | null => /http:\/\/(127\.0\.0\.1:\d+)\/#key=([\w-]+)/.exec(out)
  await eventually(() => address() !== null, 20_000)
  const [url = '', at = '', key = ''] = address() ?? []
  const caller = await enter({ at }, { key })
  caller.ask({ type: 'cautions-read' })
  caller.ask({ type: 'rig', rig: 'real' })
  const isOpen = (id: string): boolean =>
    caller.of('port').findLast(({ port }) => port.id === id)?.port.state === 'open'
  await eventually(() => caller.of('show').at(-1)?.rig === 'real' && isOpen('keys') && isOpen('out'), 20_000)
  await caller.hangUp()

  const alone: number[] = []
  const told: number[] = []
  const watched: number[] = []
  await trip.run()
  for (let round = 0; round < ROUNDS; round++) {
    alone.push(...(await trip.run()))
    const elsewhere = [await enter({ at }, { key }), await enter({ at }, { key })]
    told.push(...(await trip.run()))
    for (const screen of elsewhere) await screen.hangUp()
    const browser = await startChromium()
    for (let screen = 0; screen < 2; screen++) {
      const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
      await page.goto(url)
      await page.getByRole('button', { name: 'As a table' }).waitFor()
    }
    watched.push(...(await trip.run()))
    await browser.close()
  }
  const rows = [
    { what: 'no screen', ...spreadOf(alone) },
    { what: 'two screens elsewhere', ...spreadOf(told) },
    { what: 'two screens in a browser here', ...spreadOf(watched) },
  ]
  const ratios = rows.map(({ p99 }) => Number((p99 / (rows[0]?.p99 ?? 1)).toFixed(2)))
  console.log('A note from MIDI port to MIDI port through lanthorn open, milliseconds')
  console.table(rows)
  console.log(`p99 against no screen: ${ratios.slice(1).join(' and ')} times`)
  console.log(JSON.stringify({ node: process.version, screensLatency: rows, ratios }))
  await end(child)
  back.destroy()
  source.destroy()
  await jack.stop()
}
