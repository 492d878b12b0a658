import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import { readMidiFile } from '../../../src/midi/file-read.ts'
import { encode } from '../../../src/midi/encode.ts'
import { enter } from '../../support/caller.ts'
import { startChromium } from '../../support/chromium.ts'
import type { JackMidi } from '../../support/jack-midi.ts'
import { connected, startJackMidi } from '../../support/jack-midi.ts'
import { openLivePage } from '../../support/live-page.ts'
import { instrument } from '../../support/live-stage.ts'
import { startOpen } from '../../support/open-process.ts'
import { scratchFolder } from '../../support/scratch.ts'
import { gigNotes, gigShow, showText, songsExpected, takeBytes } from '../../support/six-songs.ts'

const SOON = { timeout: 20_000 }
const END_MS = 10_500

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

test(
  'a gig of six songs played through from a take, changed by pedal: the Stage shows the right song in the middle of each, and every note lights the lamp of its song',
  // Its 18 notes are a quarter of a second each: on a machine with much to do one is missed by who looks thirty times a second.
  { retry: 3 },
  async () => {
    const path = join(scratchFolder(), 'gig.json')
    writeFileSync(path, showText())
    const keys = instrument(jack, 'Keybed')
    const open = await startOpen(path, '--rig', 'virtual')
    const { page } = await openLivePage(browser, open)
    const caller = await enter({ at: open.at }, { key: open.key })
    onTestFinished(() => caller.hangUp())
    await expect
      .poll(() => caller.of('port').findLast(({ port }) => port.id === 'keys')?.port.state, SOON)
      .toBe('open')
    await connected()

    const songs = songsExpected()
    const titles = new Map(
      (gigShow()['songs'] as { id: string; title: string }[]).map(({ id, title }) => [id, title]),
    )
    const seen: Promise<readonly [string, string]>[] = []
    const began = performance.now()
    const at = async (ms: number): Promise<void> =>
      void (await pause(Math.max(0, ms - (performance.now() - began))))
    const looking = songs.map(async ({ atMicros, song }, place) => {
      const until = songs[place + 1]?.atMicros ?? END_MS * 1000
      await at((atMicros + until) / 2000)
      seen.push(
        page
          .getByRole('heading', { level: 1 })
          .innerText()
          .then((words) => [song, words] as const),
      )
    })
    const take = readMidiFile(takeBytes())
    if (!take.ok) throw new Error(take.error.what)
    for (const { at: micros, message } of take.file.tracks.flatMap(({ events }) => events)) {
      await at(micros / 1000)
      keys.sendMessage(Buffer.from(encode(message)))
    }
    await Promise.all(looking)

    for (const [song, words] of await Promise.all(seen)) expect(words).toContain(titles.get(song))
    expect(caller.of('song').map(({ song, position }) => [song, position])).toEqual(
      songs.slice(1).map(({ song }, place) => [song, place + 1]),
    )
    // Some lamps list each: what was lit, in the order it was first seen.
    const lit = new Set(
      caller
        .of('lamps')
        .flatMap(({ lamps }) => lamps.filter(({ on }) => on).map(({ lamp, key }) => `${lamp} ${key}`)),
    )
    for (const { lamp, key } of gigNotes()) expect([...lit]).toContain(`${lamp} ${key}`)
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
  },
)
