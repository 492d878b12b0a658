import { mkdirSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Show } from '../../src/domain/show.ts'
import { songSheet } from '../../src/offline/song-sheet.ts'
import { songsReached } from '../../src/offline/songs-reached.ts'
import { axeFaults } from '../support/axe.ts'
import { startChromium } from '../support/chromium.ts'
import { demoShow } from '../support/demo.ts'
import { HOSTILE_SHOWN, hostileShow } from '../support/hostile-show.ts'
import { gigShow } from '../support/six-songs.ts'
import { validShow } from '../support/valid-show.ts'
import { widerThanPage } from '../support/wider-than-page.ts'

const PICTURES = resolve(import.meta.dirname, '../../dist/screenshots')
/** What is left of the paper between the margins of the page, in CSS pixels (96 an inch). */
const MARGINS_MM = 26
const PAPERS = [
  ['A4', (210 - MARGINS_MM) / 25.4],
  ['Letter', 8.5 - MARGINS_MM / 25.4],
] as const

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())

/** The sheet as printed on paper so wide. */
async function opened(show: Show, width: number, run: (page: Page) => Promise<void>): Promise<void> {
  // Half a pixel less: what fits there fits on the paper.
  const page = await browser.newPage({ viewport: { width: Math.floor(width), height: 1000 } })
  try {
    await page.emulateMedia({ media: 'print' })
    await page.setContent(songSheet(show))
    await run(page)
  } finally {
    await page.close()
  }
}

/** Pages of a PDF: its objects of type Page (ISO 32000, 7.7.3.3), which the browser writes in the clear. */
function pagesOf(pdf: Uint8Array): number {
  return [
    ...Buffer.from(pdf)
      .toString('latin1')
      .matchAll(/\/Type\s*\/Page\b/gu),
  ].length
}

const SHOWS: readonly (readonly [string, Show])[] = [
  ['the demo', demoShow()],
  ['six songs', validShow(gigShow())],
  ['hostile texts', validShow(hostileShow())],
]

describe.each(PAPERS)('%s', (format, inches) => {
  test.each(SHOWS)('%s: a page for each song at least, one before and one after', (_, show) =>
    opened(show, inches * 96, async (page) => {
      const pages = pagesOf(await page.pdf({ format }))
      expect(pages).toBeGreaterThanOrEqual(songsReached(show).length + 2)
    }),
  )

  test('short songs take a page each, no more', () =>
    opened(validShow(gigShow()), inches * 96, async (page) => {
      expect(pagesOf(await page.pdf({ format }))).toBe(8)
    }))

  test.each(SHOWS)('%s: nothing is wider than the paper', (_, show) =>
    opened(show, inches * 96, async (page) => {
      expect(await widerThanPage(page)).toEqual([])
    }),
  )
})

test('the measure finds what is too wide', () =>
  opened(demoShow(), 695, async (page) => {
    await page.addStyleTag({ content: '.label { width: 720px }' })
    expect((await widerThanPage(page)).length).toBeGreaterThan(0)
  }))

test('hostile texts are text: no element comes of them, and they are read as they were written', () =>
  opened(validShow(hostileShow()), 695, async (page) => {
    expect(await page.locator('script').count()).toBe(0)
    expect(await page.locator('h1').textContent()).toBe(HOSTILE_SHOWN)
    expect(await page.title()).toContain('<script>alert(1)</script> &amp;')
    expect(await page.locator('.notes').first().textContent()).toContain(HOSTILE_SHOWN)
    expect(await page.locator('section.plate').count()).toBe(6)
  }))

test('on a screen it stays within a telephone’s width', async () => {
  const page = await browser.newPage({ viewport: { width: 390, height: 800 } })
  await page.setContent(songSheet(demoShow()))
  expect(await widerThanPage(page)).toEqual([])
  await page.close()
})

test.each(SHOWS)('%s: nothing that axe-core finds', async (_, show) => {
  const page = await browser.newPage({ viewport: { width: 1000, height: 800 } })
  // The page allows no script, which is the point; axe is one.
  await page.setContent(songSheet(show).replace(/<meta http-equiv="Content-Security-Policy"[^>]*>/u, ''))
  expect(await axeFaults(page)).toEqual([])
  await page.close()
})

test('pictures of two sheets', () =>
  opened(demoShow(), PAPERS[0][1] * 96, async (page) => {
    mkdirSync(PICTURES, { recursive: true })
    for (const place of [0, 3]) {
      const picture = await page.locator('section.plate').nth(place).screenshot()
      writeFileSync(resolve(PICTURES, `sheet-print-${place}.png`), picture)
      expect(picture.length).toBeGreaterThan(5_000)
    }
  }))
