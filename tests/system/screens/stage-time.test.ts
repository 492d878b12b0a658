import { mkdirSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import type { ScreenPage, ScreenPageOptions } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'
import { shadowText } from '../../support/shadow-text.ts'

const SIZES = [
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 820, height: 1180 },
]
const PICTURES = new URL('../../../dist/screenshots/', import.meta.url).pathname

type Time = Extract<HostWord, { type: 'time' }>
const OWN: Time = {
  type: 'time',
  at: 1_000_000,
  beat: 6,
  tempo: 97.0625,
  isFollowed: false,
  isRunning: true,
  isQuiet: false,
}
const FOLLOWED: Time = { ...OWN, tempo: 119.9, isFollowed: true }

let browser: Browser
beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true })
  browser = await startChromium()
})
afterAll(() => browser.close())

async function onStage(time: Time, use: (screen: ScreenPage) => Promise<void>, more: ScreenPageOptions = {}) {
  const first = [...houseWords(), time]
  const screen = await openScreenPage(browser, { hash: '#stage', first, ...more })
  try {
    await screen.page.locator('lan-song-time').waitFor()
    await use(screen)
  } finally {
    await screen.close()
  }
}

function saysTime(page: Page): Promise<string> {
  return shadowText(page.locator('lan-song-time'))
}

/** Goes there by Tab alone. */
async function tabTo(page: Page, name: string): Promise<void> {
  const button = page.getByRole('button', { name, exact: true })
  await page.locator('body').press('Tab')
  for (let presses = 0; presses < 60; presses++) {
    if ((await button.and(page.locator(':focus')).count()) > 0) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`no way to "${name}" by Tab`)
}

describe.each(SIZES)('how the beats go, on the Stage at $width x $height', ({ width, height }) => {
  it.each([
    ['own', { ...OWN, beat: 499, isRunning: false }],
    ['followed', FOLLOWED],
    ['quiet', { ...FOLLOWED, isQuiet: true }],
  ])('has no faults of access, and its keys are large enough to hit: %s', async (name, time) => {
    await onStage(
      time,
      async ({ page }) => {
        await page.screenshot({ path: `${PICTURES}stage-time-${name}-${width}x${height}.png` })
        expect(await axeFaults(page)).toEqual([])
        for (const key of await page.locator('lan-song-time').getByRole('button').all())
          expect((await key.boundingBox())?.height).toBeGreaterThanOrEqual(44)
        // Every key beside the figure is in the window, the longest words of its place too.
        for (const key of await page.locator('figcaption').getByRole('button').all()) {
          const { x = 0, width: wide = Infinity } = (await key.boundingBox()) ?? {}
          expect(x + wide).toBeLessThanOrEqual(width)
        }
      },
      { width, height },
    )
  })
})

describe('how the beats go, on the Stage', () => {
  it('says the tempo to four decimals, and bar and beat counted from 1', async () => {
    await onStage(OWN, async ({ page, say }) => {
      // Beat 6, counted from 0, of bars of four.
      expect(await saysTime(page)).toMatch(/^bar 2, beat 3 /)
      await page.getByText('97.0625 a minute').waitFor()
      await say({ ...OWN, beat: 8, tempo: 137.1234 })
      await expect.poll(() => saysTime(page)).toMatch(/^bar 3, beat 1 /)
      await page.getByText('137.1234 a minute').waitFor()
      await say({ ...OWN, isRunning: false })
      await expect.poll(() => saysTime(page)).toContain('stopped at bar 2, beat 3')
    })
  })

  it('is tapped, stopped, let go on and begun by keys alone, while the lock is on', async () => {
    const locked = houseWords().map((word) => (word.type === 'show' ? { ...word, isLocked: true } : word))
    await onStage(
      OWN,
      async ({ page, say, asked }) => {
        await tabTo(page, 'Tap tempo')
        await page.keyboard.press('Enter')
        await page.keyboard.press('Space')
        await page.keyboard.press('Tab')
        await page.keyboard.press('Enter')
        await say({ ...OWN, isRunning: false })
        await page.getByRole('button', { name: 'Go on' }).waitFor()
        await page.keyboard.press('Enter')
        await page.keyboard.press('Tab')
        await page.keyboard.press('Enter')
        const told = async (): Promise<unknown[]> =>
          (await asked()).filter(({ type }) => type === 'tap' || type === 'beats')
        await expect
          .poll(told)
          .toMatchObject([
            { type: 'tap' },
            { type: 'tap' },
            { type: 'beats', do: 'stop' },
            { type: 'beats', do: 'go-on' },
            { type: 'beats', do: 'start' },
          ])
      },
      { first: [...locked, OWN] },
    )
  })

  it('of a clock that is followed says that it is, about how fast, and when it does not come; it has no keys', async () => {
    await onStage(FOLLOWED, async ({ page, say }) => {
      expect(await saysTime(page)).toBe('bar 2, beat 3 by the clock that is followed')
      await page.getByText('about 119.9 a minute').waitFor()
      expect(await page.locator('lan-song-time').getByRole('button').count()).toBe(0)
      await say({ ...FOLLOWED, isQuiet: true })
      await expect.poll(() => saysTime(page)).toContain('no clock comes')
    })
  })
})
