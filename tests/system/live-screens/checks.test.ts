import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { startChromium } from '../../support/chromium.ts'
import { SOON } from '../../support/live-house.ts'
import { openLivePage } from '../../support/live-page.ts'
import { startOpen } from '../../support/open-process.ts'
import { REAL_PROCESSES } from '../../support/real-processes.ts'
import { takePicture } from '../../support/room-sizes.ts'
import { shadowText } from '../../support/shadow-text.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()), 60_000)
afterAll(() => browser?.close())

test(
  'the demo as it plays: its takes are counted by the real host, and the page for the venue is made',
  REAL_PROCESSES,
  async () => {
    const screen = await openLivePage(browser, await startOpen())
    const { page } = screen
    await expect.poll(async () => (await screen.lit()).length, SOON).toBeGreaterThan(0)
    await screen.room('Checks')
    const room = page.locator('lan-checks-room')
    await expect.poll(() => shadowText(room.locator('.counting')), SOON).toMatch(/^Counted three takes/)
    const rows = await room.locator('lan-take-table tbody tr').allInnerTexts()
    expect(rows).toHaveLength(4)
    expect(rows.filter((row) => row.includes('glasshouse.mid'))).toHaveLength(3)
    await page.getByRole('button', { name: 'Make the page for the venue' }).click()
    await page.getByRole('link', { name: /^Save .*, for the venue$/ }).waitFor()
    await room.locator('lan-gig-papers').scrollIntoViewIfNeeded()
    await takePicture(page, 'live-gig-papers')
  },
)
