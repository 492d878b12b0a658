import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { gigCheck } from '../../src/offline/gig-check/gig-check.ts'
import { venuePage } from '../../src/offline/venue/venue-page.ts'
import { axeFaults } from '../support/axe.ts'
import { startChromium } from '../support/chromium.ts'
import { DEMO_TAKE, demoShow } from '../support/demo.ts'
import { HOSTILE, HOSTILE_SHOWN, hostileShow } from '../support/hostile-show.ts'
import { widerThanPage } from '../support/wider-than-page.ts'
import { checkedGig } from '../support/song-takes.ts'
import { validShow } from '../support/valid-show.ts'

const PICTURES = resolve(import.meta.dirname, '../../dist/screenshots')
const DATE = { date: '2031-02-28' }
const TAKE = Uint8Array.from(readFileSync(DEMO_TAKE))
const HOSTILE_HOUSE = validShow(hostileShow())

const PAGES: readonly (readonly [string, string])[] = [
  ['the demo', venuePage(demoShow(), checkedGig(demoShow(), { dew: [TAKE], growth: [TAKE] }), DATE)],
  [
    'hostile texts',
    venuePage(
      HOSTILE_HOUSE,
      gigCheck(HOSTILE_HOUSE, [{ ok: false, song: 'tide', take: HOSTILE, why: HOSTILE }]),
      DATE,
    ),
  ],
]

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser.close())

/** Margins of 13 mm on either side, as the page has them; 96 CSS pixels an inch. */
const A4_PIXELS = Math.floor(((210 - 26) / 25.4) * 96)

async function opened(html: string, run: (page: Page) => Promise<void>, width = A4_PIXELS): Promise<void> {
  const page = await browser.newPage({ viewport: { width, height: 1000 } })
  try {
    await page.setContent(html)
    await run(page)
  } finally {
    await page.close()
  }
}

test.each(PAGES)('%s: nothing is wider than the paper', (_, html) =>
  opened(html, async (page) => {
    await page.emulateMedia({ media: 'print' })
    expect(await widerThanPage(page)).toEqual([])
  }),
)

test('on a screen it stays within a telephone’s width', () =>
  opened(PAGES[0]![1], async (page) => expect(await widerThanPage(page)).toEqual([]), 390))

test.each(PAGES)('%s: nothing that axe-core finds', (_, html) =>
  // The page allows no script, which is the point; axe is one.
  opened(html.replace(/<meta http-equiv="Content-Security-Policy"[^>]*>/u, ''), async (page) =>
    expect(await axeFaults(page)).toEqual([]),
  ),
)

test('hostile texts are text', () =>
  opened(PAGES[1]![1], async (page) => {
    expect(await page.locator('script').count()).toBe(0)
    expect(await page.locator('h1').textContent()).toBe(HOSTILE_SHOWN)
    expect(await page.locator('.found li').allTextContents()).toContainEqual(
      expect.stringContaining(`fault: ${HOSTILE_SHOWN}`),
    )
  }))

test('pictures of it', () =>
  opened(PAGES[0]![1], async (page) => {
    await page.emulateMedia({ media: 'print' })
    mkdirSync(PICTURES, { recursive: true })
    const plates = page.locator('section.plate')
    for (let place = 0; place < (await plates.count()); place++) {
      const picture = await plates.nth(place).screenshot()
      writeFileSync(resolve(PICTURES, `venue-print-${place}.png`), picture)
      expect(picture.length).toBeGreaterThan(5_000)
    }
  }))
