import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import type { NativeOutput } from '../../../app/engine/ports/midi-module.ts'
import { nextRandom } from '../../../src/domain/random.ts'
import type { Show } from '../../../src/domain/show.ts'
import { enter } from '../../support/caller.ts'
import { startChromium } from '../../support/chromium.ts'
import { eventually } from '../../support/eventually.ts'
import { GraphRun } from '../../support/graph-run.ts'
import type { JackMidi } from '../../support/jack-midi.ts'
import { connected, startJackMidi } from '../../support/jack-midi.ts'
import { openLivePage } from '../../support/live-page.ts'
import { instrument } from '../../support/live-stage.ts'
import { startOpen } from '../../support/open-process.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { scratchFolder } from '../../support/scratch.ts'
import { GLASSHOUSE_LAMPS, glasshouse } from '../../support/shows.ts'
import { validShow } from '../../support/valid-show.ts'

const RELOADS = 10
const APART_MS = 12

let jack: JackMidi
beforeAll(async () => {
  jack = await startJackMidi()
}, 180_000)
afterAll(() => jack?.stop())

/** Four lamps on a MIDI box, whose bytes a test can hear one by one. */
const RAW = glasshouse({
  rig: {
    supplies: [{ id: 'bench', volts: 12, maxAmps: 5 }],
    outputs: [{ id: 'din', kind: 'midi', port: 'Lamp box', layout: 'channel-per-lamp', dutyController: 74 }],
    lamps: GLASSHOUSE_LAMPS.map((id, slot) => ({ id, output: 'din', slot, supply: 'bench', watts: 10 })),
  },
})

/** Eight hundred notes and pedals, and all let go at the end. No bends: which of several that come close together leave goes by when they come, to the millisecond. */
function take(): Uint8Array[] {
  let seed = 11
  const random = (below: number): number => {
    const drawn = nextRandom(seed)
    seed = drawn.seed
    return Math.floor(drawn.value * below)
  }
  const played = Array.from({ length: 800 }, () => {
    const key = 48 + random(16)
    const kinds = [
      [0x90, key, 1 + random(127)],
      [0x90, key, 100],
      [0x80, key, 64],
      [0x80, key, 64],
      [0xb0, 64, 127 * random(2)],
      [0xb0, 66, 127 * random(2)],
    ]
    return Uint8Array.from(kinds[random(kinds.length)] ?? [])
  })
  const over = [
    [0xb0, 64, 0],
    [0xb0, 66, 0],
    ...Array.from({ length: 16 }, (_, index) => [0x80, 48 + index, 64]),
  ]
  return [...played, ...over.map((bytes) => Uint8Array.from(bytes))]
}

/** What the graph makes of the take by itself, after its greeting. */
function offline(show: Show): string[] {
  const run = new GraphRun(show)
  const greeting = run.of('bytes').length
  run.play(take().map((bytes) => ({ player: 'keys', bytes: [...bytes], after: APART_MS * 1000 })))
  run.runOut()
  return run
    .of('bytes')
    .slice(greeting)
    .map(({ bytes }) => Buffer.from(bytes).toString('hex'))
}

/** A lamp box's MIDI socket as another program's port: what it hears, in hexadecimal. */
function lampBox(): string[] {
  const port = new (jack.load().Input)()
  const heard: string[] = []
  port.ignoreTypes(false, false, false)
  port.on('messageBuffer', (_, bytes: Uint8Array) => heard.push(Buffer.from(bytes).toString('hex')))
  port.openVirtualPort('Lamp box')
  onTestFinished(() => port.destroy())
  return heard
}

async function play(keys: NativeOutput, meanwhile: (part: number) => void): Promise<void> {
  const played = take()
  for (const [index, bytes] of played.entries()) {
    meanwhile(index / played.length)
    keys.sendMessage(Buffer.from(bytes))
    await pause(APART_MS)
  }
}

test(
  'a page that is reloaded ten times while a take is played, and a browser that is killed, change not one byte that goes out',
  REAL_PROCESSES,
  async () => {
    const browser: Browser = await startChromium()
    onTestFinished(() => browser.close())
    const keys = instrument(jack, 'Keybed')
    const heard = lampBox()
    const path = join(scratchFolder(), 'tide.json')
    writeFileSync(path, JSON.stringify(RAW))
    const open = await startOpen(path)
    const caller = await enter({ at: open.at }, { key: open.key })
    onTestFinished(() => caller.hangUp())
    const { page } = await openLivePage(browser, open)
    caller.ask({ type: 'rig', rig: 'real' })
    const state = (id: string): string | undefined =>
      caller.of('port').findLast(({ port }) => port.id === id)?.port.state
    await eventually(() => caller.of('show').at(-1)?.rig === 'real', 20_000)
    await eventually(() => state('keys') === 'open' && state('din') === 'open', 20_000)
    // The greeting: bend range of each lamp's channel.
    await eventually(() => heard.length >= 4 * 6, 20_000)
    await connected()
    heard.length = 0

    let reloads = 0
    let isKilled = false
    const reloaded: Promise<unknown>[] = []
    await play(keys, (part) => {
      if (reloads < RELOADS && part > (0.8 * reloads) / RELOADS) {
        reloads++
        reloaded.push(page.reload({ waitUntil: 'commit' }).catch(() => {}))
      }
      if (part > 0.85 && !isKilled) {
        isKilled = true
        void browser.close()
      }
    })
    await Promise.all(reloaded)
    expect({ reloads, isKilled }).toEqual({ reloads: RELOADS, isKilled: true })
    const wanted = offline(validShow(RAW))
    expect(wanted.length).toBeGreaterThan(500)
    await eventually(() => heard.length >= wanted.length, 20_000)
    expect(heard).toEqual(wanted)
  },
)
