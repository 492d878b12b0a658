import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../src/domain/cautions.ts'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { ROOM_SIZES, takePicture } from '../../support/room-sizes.ts'
import type { ScreenPage } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'

const ROOMS = ['stage', 'songs', 'sheet', 'steps', 'tuning', 'rig', 'checks', 'monitor', 'start']

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

type Welcome = Extract<HostWord, { type: 'welcome' }>

/** A house with the cautions that the real host tells. */
async function withHouse(
  welcome: Partial<Welcome>,
  isLocked: boolean,
  use: (screen: ScreenPage) => Promise<void>,
): Promise<void> {
  const first = houseWords().map((word) => {
    if (word.type === 'welcome') return { ...word, cautions: [...CAUTIONS], ...welcome }
    return word.type === 'show' ? { ...word, isLocked } : word
  })
  const screen = await openScreenPage(browser, { hash: '#stage', first })
  try {
    await screen.page.locator('lan-stage-room').waitFor()
    await use(screen)
  } finally {
    await screen.close()
  }
}

async function readIn({ page }: ScreenPage, room: string): Promise<void> {
  await page.evaluate(`location.hash = '#${room}'`)
  await page.getByRole('button', { name: 'Show file' }).click()
  await page.getByRole('button', { name: 'Read the cautions' }).click()
  await page.getByRole('dialog', { name: 'Cautions' }).waitFor()
  expect(await shown(page)).toEqual([...CAUTIONS])
}

/** What has the focus, in the rail. */
function focused(page: Page): Promise<string> {
  return page.evaluate<string>(
    `document.activeElement?.shadowRoot?.activeElement?.shadowRoot?.activeElement?.textContent.trim() ?? ''`,
  )
}

/** The paragraphs in the pane, one by one. */
function shown(page: Page): Promise<string[]> {
  return page.locator('lan-cautions-pane p').allTextContents()
}

describe('once they were read, the cautions', () => {
  test('can be read again from every room, by hand and by keys, and light nothing', () =>
    withHouse({}, false, async (screen) => {
      const { page } = screen
      for (const room of ROOMS) {
        await readIn(screen, room)
        expect(await page.getByRole('button', { name: /real lamps/i }).count()).toBe(1)
        await page.keyboard.press('Escape')
        await page.getByRole('dialog').waitFor({ state: 'detached' })
        // Back to where it all began.
        await expect.poll(() => focused(page)).toBe('Show file')
      }
      expect((await screen.asked()).filter(({ type }) => type === 'rig' || type === 'cautions-read')).toEqual(
        [],
      )
    }))

  test('can be read while the gig lock is on, and on another device', () =>
    withHouse({ place: 'remote', mayFiles: false }, true, async (screen) => {
      await readIn(screen, 'stage')
      expect(await screen.page.getByText('Gig lock is on.').first().isVisible()).toBe(true)
    }))

  test('stand whole beside the room', () =>
    withHouse({}, false, async (screen) => {
      await readIn(screen, 'stage')
      for (const [width, height] of ROOM_SIZES) {
        await screen.page.setViewportSize({ width, height })
        await takePicture(screen.page, 'cautions')
      }
      expect(await axeFaults(screen.page)).toEqual([])
    }))
})

test('before they were read they stand in the way of real lamps, wherever they are opened from', () =>
  withHouse({ areCautionsRead: false }, false, async (screen) => {
    const { page } = screen
    const rigs = async (): Promise<unknown[]> => (await screen.asked()).filter(({ type }) => type === 'rig')
    await page.getByRole('button', { name: 'Use real lamps', exact: true }).click()
    const pane = page.getByRole('dialog', { name: 'Before real lamps are lit' })
    await pane.waitFor()
    expect(await shown(page)).toEqual([...CAUTIONS])
    await pane.getByRole('button', { name: 'Stay in memory' }).click()
    await pane.waitFor({ state: 'detached' })
    expect(await rigs()).toEqual([])
    await page.getByRole('button', { name: 'Show file' }).click()
    await page.getByRole('button', { name: 'Read the cautions' }).click()
    await pane.waitFor()
    await page.getByRole('button', { name: 'I have read this. Use real lamps' }).click()
    await expect.poll(rigs).toMatchObject([{ rig: 'real' }])
  }))
