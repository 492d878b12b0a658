import { mkdirSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { axeFaults } from '../../support/axe.ts'
import type { BrowserPage, BrowserPageOptions } from '../../support/browser-page.ts'
import { openBrowserPage, untilAsked } from '../../support/browser-page.ts'
import { startChromium } from '../../support/chromium.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'

const SIZES = [
  { width: 1280, height: 800 },
  { width: 820, height: 1180 },
]
const PICTURES = new URL('../../../dist/screenshots/', import.meta.url).pathname

let browser: Browser
beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true })
  browser = await startChromium()
})
afterAll(() => browser.close())

async function inBrowser(
  options: BrowserPageOptions,
  use: (screen: BrowserPage) => Promise<void>,
): Promise<void> {
  const screen = await openBrowserPage(browser, options)
  try {
    await use(screen)
  } finally {
    await screen.close()
  }
}

/** The house as a screen of that place is told of it. */
function houseOf(place: 'browser' | 'remote'): HostWord[] {
  const mayFiles = place === 'browser'
  return houseWords().map((word) => (word.type === 'welcome' ? { ...word, place, mayFiles } : word))
}

const NO_ENTRY: HostWord = {
  type: 'no-entry',
  message: 'That is not the code that the host shows.',
  again: 0,
}

describe.each(SIZES)('a lost host at $width x $height', ({ width, height }) => {
  it('is said, looked for again, and entered with the key of before', async () => {
    await inBrowser(
      { width, height, hash: '#key=from-the-address', enter: () => houseOf('browser') },
      async (screen) => {
        const { page, asked } = screen
        await page.getByRole('heading', { name: 'Dew on the panes' }).waitFor()
        expect(asked[0]).toMatchObject({ type: 'enter', key: 'from-the-address' })
        expect(page.url()).not.toContain('from-the-address')
        await screen.drop()
        await page.getByText('Looking for the host again; the music goes on by itself.').waitFor()
        await page.screenshot({ path: `${PICTURES}stage-lost-${width}x${height}.png` })
        expect(await axeFaults(page)).toEqual([])
        await page.getByRole('button', { name: 'Dark all lamps, F8' }).click()
        await page.getByText('Not sent: the host is not reached from here.').waitFor()
        screen.back()
        await page.getByText('Looking for the host again').waitFor({ state: 'detached' })
        expect(asked.filter(({ type }) => type === 'enter').at(-1)).toMatchObject({ key: 'test-key' })
        // What was pressed while the host was away is not done later.
        expect(asked.some(({ type }) => type === 'dark-all')).toBe(false)
      },
    )
  })

  it('stays lost over tries in vain', async () => {
    await inBrowser({ enter: () => houseOf('browser') }, async (screen) => {
      await screen.page.getByRole('heading', { name: 'Dew on the panes' }).waitFor()
      await screen.drop()
      await expect.poll(() => screen.connections(), { timeout: 10_000 }).toBeGreaterThanOrEqual(3)
      expect(await screen.page.getByText('Looking for the host again').isVisible()).toBe(true)
    })
  })

  it('asks another device for the code, and lets it in with the right one', async () => {
    const enter: BrowserPageOptions['enter'] = ({ code }) =>
      code === '604118' ? houseOf('remote') : [NO_ENTRY]
    await inBrowser({ width, height, enter }, async ({ page, asked }) => {
      const code = page.getByLabel('The code')
      await code.waitFor()
      await page.screenshot({ path: `${PICTURES}shell-asking-${width}x${height}.png` })
      expect(await axeFaults(page)).toEqual([])
      await code.fill('111111')
      await page.keyboard.press('Enter')
      await expect.poll(() => asked.filter(({ type }) => type === 'enter').length).toBe(2)
      await page.getByRole('alert').getByText('That is not the code').waitFor()
      await code.fill('604118')
      await page.getByRole('button', { name: 'Enter' }).click()
      await page.getByRole('heading', { name: 'Dew on the panes' }).waitFor()
      await page.getByRole('button', { name: 'Show file' }).click()
      expect(await page.getByText('Files are opened and saved on the machine that plays').isVisible()).toBe(
        true,
      )
    })
  })
})

describe('the door', () => {
  it('says how long another try is not heard, and opens by itself', async () => {
    const enter = (): HostWord[] => [{ ...NO_ENTRY, again: 1_800 }]
    await inBrowser({ enter }, async ({ page }) => {
      await page.getByText(/Another try is heard in [12] s\./).waitFor()
      expect(await page.getByRole('button', { name: 'Enter' }).isDisabled()).toBe(true)
      await expect
        .poll(() => page.getByRole('button', { name: 'Enter' }).isEnabled(), { timeout: 5_000 })
        .toBe(true)
    })
  })

  it('keeps what was typed over a connection that breaks while it asks', async () => {
    let isShut = false
    const enter: BrowserPageOptions['enter'] = ({ code }) =>
      code === '604118' ? houseOf('remote') : [NO_ENTRY]
    await inBrowser({ enter }, async (screen) => {
      await screen.page.getByLabel('The code').fill('604118')
      await screen.drop()
      isShut = true
      await screen.page.getByRole('button', { name: 'Enter' }).click()
      await expect.poll(() => screen.connections(), { timeout: 10_000 }).toBeGreaterThanOrEqual(2)
      screen.back()
      await screen.page.getByRole('heading', { name: 'Dew on the panes' }).waitFor()
      expect(isShut).toBe(true)
    })
  })
})

describe('files in a browser', () => {
  it('are sent as text when chosen; by path from the host’s disk; saved where the person types', async () => {
    await inBrowser({ enter: () => houseOf('browser') }, async ({ page, asked, say }) => {
      await page.getByRole('button', { name: 'Show file' }).click()
      const text = '{ "format": "lanthorn-show" }'
      const chooser = page.getByLabel('A show file from this browser')
      await chooser.setInputFiles({
        name: 'evening.json',
        mimeType: 'application/json',
        buffer: Buffer.from(text),
      })
      await untilAsked(asked, 'open-text')
      expect(asked.at(-1)).toMatchObject({ type: 'open-text', name: 'evening.json', text })
      say({ type: 'recent', files: ['/shows/first.json'] })
      await page.getByRole('button', { name: 'Show file' }).click()
      await page.getByLabel('Or by its path').fill('/shows/late.json')
      await page.getByRole('button', { name: 'Open it' }).click()
      await untilAsked(asked, 'open-file')
      expect(asked.at(-1)).toMatchObject({ type: 'open-file', path: '/shows/late.json' })
      await page.getByRole('button', { name: 'Show file' }).click()
      await page.getByRole('button', { name: '/shows/first.json' }).click()
      await expect.poll(() => asked.at(-1)).toMatchObject({ type: 'open-file', path: '/shows/first.json' })
      await page.getByRole('button', { name: 'Show file' }).click()
      await page.getByLabel('Save as, on the machine that plays').fill('/shows/mine.json')
      await page.getByRole('button', { name: 'Save there' }).click()
      await untilAsked(asked, 'save')
      expect(asked.at(-1)).toMatchObject({ type: 'save', path: '/shows/mine.json' })
    })
  })

  it('of another kind are turned away in words, and nothing is sent', async () => {
    await inBrowser({ enter: () => houseOf('browser') }, async ({ page, asked }) => {
      await page.getByRole('button', { name: 'Show file' }).click()
      const chooser = page.getByLabel('A show file from this browser')
      await chooser.setInputFiles({ name: 'song.mid', mimeType: 'audio/midi', buffer: Buffer.from('MThd') })
      await page.getByText('This is no show file; a show is a .json file.').first().waitFor()
      expect(asked.map(({ type }) => type)).toEqual(['enter'])
    })
  })
})

describe('a host of another version', () => {
  it('is said once, however much it says', async () => {
    await inBrowser({ enter: () => houseOf('browser') }, async ({ page, say }) => {
      await page.getByRole('heading', { name: 'Dew on the panes' }).waitFor()
      const strange = JSON.parse('{ "type": "weather", "rain": true }') as HostWord
      say(strange, strange, strange)
      await page.getByRole('button', { name: 'New words: 2' }).click()
      await page.getByRole('dialog').waitFor()
      expect(
        await page.locator('lan-words-pane').getByText('things that this screen does not know').count(),
      ).toBe(1)
      expect(await page.getByRole('heading', { name: 'Dew on the panes' }).isVisible()).toBe(true)
    })
  })
})
