import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, onTestFinished } from 'vitest'
import type { NativeOutput } from '../../app/engine/ports/midi-module.ts'
import type { LampStatus } from '../../src/contract/from-engine.ts'
import type { Caller } from './caller.ts'
import { enter } from './caller.ts'
import { startChromium } from './chromium.ts'
import type { JackMidi } from './jack-midi.ts'
import { connected, startJackMidi } from './jack-midi.ts'
import type { LivePage } from './live-page.ts'
import { openLivePage } from './live-page.ts'
import { instrument } from './live-stage.ts'
import { startOpen } from './open-process.ts'
import { scratchFolder } from './scratch.ts'

/** Polls of a page of another process, on a machine with much to do. */
export const SOON = { timeout: 20_000 }

export interface OpenHouse extends LivePage {
  /** Whatever the host says, heard by another screen than the page. */
  readonly caller: Caller
}

export interface LiveHouse {
  /** An instrument as another program's port. */
  instrument(name: string): NativeOutput
  /** A show on lamps in memory, played by `lanthorn open`, with a page on its Stage; done when the ports of these players are open. */
  open(show: unknown, players: readonly string[]): Promise<OpenHouse>
}

/** Real MIDI and a browser for the tests of a file. */
export function liveHouse(): LiveHouse {
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
  return {
    instrument: (name) => instrument(jack, name),
    async open(show, players) {
      const path = join(scratchFolder(), 'show.json')
      writeFileSync(path, JSON.stringify(show))
      const open = await startOpen(path, '--rig', 'virtual')
      const screen = await openLivePage(browser, open)
      const caller = await enter({ at: open.at }, { key: open.key })
      onTestFinished(() => caller.hangUp())
      for (const id of players)
        await expect
          .poll(() => caller.of('port').findLast(({ port }) => port.id === id)?.port.state, SOON)
          .toBe('open')
      await connected()
      return { ...screen, caller }
    },
  }
}

/** The lamps that are lit, of what was told last. */
export function litOf(caller: Caller): LampStatus[] {
  return (caller.of('lamps').at(-1)?.lamps ?? []).filter(({ on }) => on)
}
