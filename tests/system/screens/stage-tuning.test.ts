import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import { cutOff } from '../../support/cut-off.ts'
import { demoShow } from '../../support/demo.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { overhang, ROOM_SIZES, takePicture } from '../../support/room-sizes.ts'
import type { ScreenPage } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

async function onStage(
  show: Show,
  use: (screen: ScreenPage) => Promise<void>,
  more: readonly HostWord[] = [],
): Promise<void> {
  const screen = await openScreenPage(browser, { hash: '#stage', first: [...houseWords(show), ...more] })
  try {
    await screen.page.locator('lan-player-strip').waitFor()
    await use(screen)
  } finally {
    await screen.close()
  }
}

/** The keys' part of the first song is a pulse of 3:2. */
function pulsing(): Show {
  const show = demoShow()
  const songs = show.songs.map((song) => ({
    ...song,
    parts: song.parts.map((part) => (part.id === 'lead' ? { ...part, pulse: { ratio: '3:2' } } : part)),
  }))
  return { ...show, songs }
}

test('a song in a tuning that is not its own says so, and goes back to its own', () =>
  onStage(demoShow(), async ({ page, say, asked }) => {
    await page.getByText('tuning even').waitFor()
    expect(await page.getByRole('button', { name: /^Back to its own/ }).count()).toBe(0)
    await say({ type: 'tuned', tuning: 'nineteen' })
    const words = page.getByText('in the tuning nineteen')
    await words.waitFor()
    expect(await words.locator('xpath=ancestor::*[@role="status"]').count()).toBe(1)
    await page.getByText('tuning nineteen', { exact: true }).waitFor()
    for (const [width, height] of ROOM_SIZES) {
      await page.setViewportSize({ width, height })
      await takePicture(page, 'stage-tuned')
      expect(await axeFaults(page)).toEqual([])
      expect(await overhang(page)).toBeLessThanOrEqual(0)
      expect(await cutOff(page)).toEqual([])
    }
    await page.getByRole('button', { name: 'Back to its own: even' }).click()
    await expect
      .poll(async () => (await asked()).at(-1))
      .toMatchObject({ type: 'tune', tuning: null, retune: true })
    await say({ type: 'tuned', tuning: null })
    await expect.poll(() => words.count()).toBe(0)
  }))

test('a lamp that pulses stands with its rate, steadily lit; at its pitch it is as any other', () => {
  // 97.0625 beats a minute, three flashes to two beats: 145.59 a minute.
  const hz = (97.0625 * 3) / 2 / 60
  const fern = { lamp: 'fern', on: true, part: 'lead', player: 'keys', key: 57, cents: 0, duty: 0.3 }
  const at = (rate: number): HostWord => ({
    type: 'lamps',
    at: 3_000_000,
    lamps: [{ ...fern, hz: rate, realHz: rate }],
  })
  return onStage(
    pulsing(),
    async ({ page, say }) => {
      const figure = page.locator('.lamp.lit')
      const said = async (): Promise<string> =>
        ((await figure.textContent()) ?? '').replaceAll(/\s+/g, ' ').trim()
      await expect.poll(said).toMatch(/Fern ?146 ?a minute ?pulse ?30 %/)
      expect(
        await figure.locator('.light').evaluate((element) => {
          const { getComputedStyle } = globalThis as unknown as {
            getComputedStyle(element: unknown): { animationName: string; transitionDuration: string }
          }
          const { animationName, transitionDuration } = getComputedStyle(element)
          return [animationName, transitionDuration]
        }),
      ).toEqual(['none', '0s'])
      for (const [width, height] of ROOM_SIZES) {
        await page.setViewportSize({ width, height })
        await takePicture(page, 'stage-pulse')
        expect(await cutOff(page)).toEqual([])
      }
      await page.getByRole('button', { name: 'As a table' }).click()
      const row = page.getByRole('row', { name: /^Fern/ })
      await expect.poll(() => row.textContent()).toContain('pulse, 145.5938 a minute')
      await takePicture(page, 'stage-pulse-table')
      expect(await axeFaults(page)).toEqual([])
      await say(at(220))
      await expect.poll(() => row.textContent()).toContain('A3')
      expect(await row.textContent()).not.toContain('pulse')
    },
    [at(hz)],
  )
})
