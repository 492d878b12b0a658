import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import { enter } from '../../support/caller.ts'
import { startChromium } from '../../support/chromium.ts'
import type { JackMidi } from '../../support/jack-midi.ts'
import { connected, startJackMidi } from '../../support/jack-midi.ts'
import { openLivePage } from '../../support/live-page.ts'
import { instrument } from '../../support/live-stage.ts'
import { startOpen } from '../../support/open-process.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { scratchFolder } from '../../support/scratch.ts'
import { glasshouse } from '../../support/shows.ts'

const SOON = { timeout: 20_000 }
const HIT = Buffer.of(0x99, 38, 100)

let jack: JackMidi
let browser: Browser
beforeAll(async () => {
  jack = await startJackMidi()
  browser = await startChromium()
}, 180_000)
afterAll(async () => {
  await browser?.close()
  await jack?.stop()
})

/** Five against four on two lamps, long enough lit to be seen by a screen. */
function show(): unknown {
  const part = { id: 'grid', player: 'pads', lamps: ['fern', 'moss'], strategy: { kind: 'steps' } }
  const five = {
    id: 'five',
    name: 'Five against four',
    gateMs: 600,
    rows: [
      { lamp: 'fern', steps: [60, 62, 0, 65, 67] },
      { lamp: 'moss', steps: [48, 0, 0, 0] },
    ],
  }
  return glasshouse({
    players: [{ id: 'pads', kind: 'pads', input: { port: 'Pads', channels: [10] } }],
    songs: [{ id: 'tide', title: 'Tide table', parts: [part], patterns: [five] }],
  })
}

test(
  'the drummer hits, the room shows where each row stands; a step edited meanwhile sounds as it is come to, and no lamp hangs',
  REAL_PROCESSES,
  async () => {
    const path = join(scratchFolder(), 'five.json')
    writeFileSync(path, JSON.stringify(show()))
    const pads = instrument(jack, 'Pads')
    const open = await startOpen(path, '--rig', 'virtual')
    const { page, room } = await openLivePage(browser, open)
    const caller = await enter({ at: open.at }, { key: open.key })
    onTestFinished(() => caller.hangUp())
    await expect
      .poll(() => caller.of('port').findLast(({ port }) => port.id === 'pads')?.port.state, SOON)
      .toBe('open')
    await connected()
    const rows = (): unknown => caller.of('steps').at(-1)?.parts[0]?.rows
    /** Every key that a lamp was told to sound, in order, without repeats. */
    const sounded = (lamp: string): (number | undefined)[] =>
      caller
        .of('lamps')
        .map(({ lamps }) => lamps.find((one) => one.lamp === lamp))
        .map((one) => (one?.on === true ? one.key : undefined))
        .filter((key, place, all) => key !== all[place - 1])
    const marked = (): Promise<(string | null)[]> =>
      page
        .locator('lan-step-grid td.now')
        .evaluateAll((all) => all.map((one) => one.getAttribute('data-index')))

    await room('Steps')
    await page.getByRole('heading', { name: 'Five against four' }).waitFor()
    expect(await marked()).toEqual([])
    pads.sendMessage(HIT)
    await expect.poll(rows, SOON).toEqual([0, 0])
    await expect.poll(marked, SOON).toEqual(['0', '0'])
    pads.sendMessage(HIT)
    await expect.poll(marked, SOON).toEqual(['1', '1'])

    // The third step is a rest yet, and is come to next.
    const songs = caller.of('song').length
    await page.getByRole('button', { name: /^fern, step 3: rest/i }).focus()
    for (const key of ['Enter', 'PageUp', '+']) await page.keyboard.press(key)
    const third = (): unknown => caller.of('show').at(-1)?.show.songs[0]?.patterns[0]?.rows[0]?.steps[2]
    await expect.poll(third, SOON).toEqual({ note: 73 })
    await expect.poll(() => caller.of('loaded').length, SOON).toBeGreaterThanOrEqual(2)
    // Nothing began anew: the rows stand where they stood.
    expect(await marked()).toEqual(['1', '1'])
    expect(caller.of('song').length).toBe(songs)
    const before = sounded('fern').length
    pads.sendMessage(HIT)
    await expect.poll(marked, SOON).toEqual(['2', '2'])
    await expect.poll(() => sounded('fern').slice(before), SOON).toContain(73)
    await expect
      .poll(
        () =>
          caller
            .of('lamps')
            .at(-1)
            ?.lamps.filter(({ on }) => on),
        SOON,
      )
      .toEqual([])
    expect(sounded('fern').filter((key) => key !== undefined)).toEqual([60, 62, 73])

    // The row is taken away under the hand that plays it: dark at once, and the other goes on.
    pads.sendMessage(HIT)
    await expect.poll(marked, SOON).toEqual(['3', '3'])
    await page.getByRole('button', { name: 'Remove the row' }).click()
    await expect.poll(rows, SOON).toEqual([3])
    pads.sendMessage(HIT)
    await expect.poll(marked, SOON).toEqual(['0'])
    await expect
      .poll(
        () =>
          caller
            .of('lamps')
            .at(-1)
            ?.lamps.filter(({ on }) => on),
        SOON,
      )
      .toEqual([])
    expect(sounded('moss').filter((key) => key !== undefined)).toEqual([48, 48])
  },
)
