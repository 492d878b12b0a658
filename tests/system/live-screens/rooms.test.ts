import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import type { LivePage } from '../../support/live-page.ts'
import { openLivePage } from '../../support/live-page.ts'
import { startOpen } from '../../support/open-process.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { overhang, takePicture } from '../../support/room-sizes.ts'

const SOON = { timeout: 20_000 }
const ROOMS = ['Stage', 'Sheet', 'Steps', 'Tuning', 'Rig', 'Checks', 'Monitor']

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
}, 60_000)
afterAll(() => browser?.close())

test.each([
  [1280, 800],
  [1024, 768],
])(
  'every room of the demo as it plays, at %i x %i: axe finds nothing, nothing hangs over',
  { ...REAL_PROCESSES, timeout: 240_000 },
  async (width, height) => {
    const screen = await openLivePage(browser, await startOpen(), width, height)
    const { page } = screen
    await expect.poll(async () => (await screen.lit()).length, SOON).toBeGreaterThan(0)
    await page.getByRole('button', { name: 'As a table' }).click()
    for (const room of ROOMS) {
      await screen.room(room)
      await page.getByRole('heading', { level: 1 }).waitFor()
      await filled(page, room)
      await takePicture(page, `live-${room.toLowerCase()}`)
      expect({ room, faults: await axeFaults(page) }).toEqual({ room, faults: [] })
      expect({ room, overhang: await overhang(page) }).toEqual({ room, overhang: 0 })
    }
  },
)

/** What a room shows only once the host has answered. */
async function filled(page: Page, room: string): Promise<void> {
  if (room === 'Tuning') await page.getByText('Farthest off').first().waitFor()
  if (room === 'Checks') await page.locator('lan-checks-room').getByRole('listitem').first().waitFor()
  if (room === 'Monitor')
    await page
      .getByText(/note-on/)
      .first()
      .waitFor()
}

test(
  'a first start by keyboard alone, on the real host: three questions, the cautions, then a lamp is lit to be found, and the Stage has the new show',
  REAL_PROCESSES,
  async () => {
    const screen = await openLivePage(browser, await startOpen())
    const { page } = screen
    const { keyboard } = page
    await tabTo(page, /Make a show of your own/)
    await keyboard.press('Enter')
    await question(page, 'What plays?')
    await tabTo(page, /What is the show called/)
    await keyboard.press('Control+A')
    await keyboard.type('Fern house')
    await tabTo(page, /^Go on/)
    await keyboard.press('Enter')
    await question(page, 'How many lamps?')
    await tabTo(page, /^Lamps, 1 to 64/)
    await keyboard.press('Control+A')
    await keyboard.type('3')
    await tabTo(page, /^Go on/)
    await keyboard.press('Enter')
    await question(page, 'How are they wired?')
    await tabTo(page, /^A lamp box on a serial port/)
    await keyboard.press('ArrowUp')
    expect(await page.getByRole('radio', { name: /memory/ }).isChecked()).toBe(true)
    await tabTo(page, /^Go on/)
    await keyboard.press('Enter')
    await question(page, 'Before anything is lit')
    await tabTo(page, /^I have read this/)
    await keyboard.press('Space')
    await keyboard.press('Enter')
    await question(page, 'Light the lamps')
    await tabTo(page, /^Light the next lamp/)
    await keyboard.press('Enter')
    await page.getByText('lit steadily for up to two seconds').waitFor()
    await tabTo(page, /^Light (?!the next)/)
    await keyboard.press('Enter')
    await page.getByText(/is lit: 1 of 3/).waitFor()
    await tabTo(page, /Stage/)
    await keyboard.press('Enter')
    await page.getByRole('heading', { level: 1, name: /First light/ }).waitFor()
    await stageHas(screen, 3)
  },
)

async function question(page: Page, words: string): Promise<void> {
  await page.getByRole('heading', { name: words, level: 2 }).waitFor()
}

async function stageHas(screen: LivePage, lamps: number): Promise<void> {
  await screen.lit()
  await expect.poll(() => screen.page.locator('lan-lamp-table tbody tr').count(), SOON).toBe(lamps)
}

/** Tab, until what has that name has the focus; throws where it never does. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  const passed: string[] = []
  for (let tabs = 0; tabs < 80; tabs++) {
    const now = await page.evaluate<string>(`(() => {
      let one = document.activeElement
      while (one?.shadowRoot?.activeElement) one = one.shadowRoot.activeElement
      return (one?.labels?.[0]?.textContent ?? one?.textContent ?? '').trim().replace(/\\s+/g, ' ')
    })()`)
    if (name.test(now)) return
    passed.push(now)
    await page.keyboard.press('Tab')
  }
  throw new Error(`Tab never comes to ${String(name)}; it came to ${[...new Set(passed)].join(' | ')}`)
}
