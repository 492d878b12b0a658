import { mkdirSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import { cutOff } from '../../support/cut-off.ts'
import { demoShow } from '../../support/demo.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import type { ScreenPage, ScreenPageOptions } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'
import { wideRigShow } from '../../support/wide-rig.ts'

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

async function onStage(
  options: ScreenPageOptions,
  use: (screen: ScreenPage) => Promise<void>,
): Promise<void> {
  const screen = await openScreenPage(browser, { hash: '#stage', first: houseWords(), ...options })
  try {
    const isTold = options.first?.length !== 0
    await screen.page
      .locator(isTold ? 'lan-player-strip' : 'h1')
      .first()
      .waitFor()
    await use(screen)
  } finally {
    await screen.close()
  }
}

describe.each(SIZES)('the Stage at $width x $height', ({ width, height }) => {
  it.each([
    ['demo', demoShow()],
    ['64', wideRigShow(64)],
    ['16', wideRigShow(16)],
  ])('has no faults of access and no cut figures with the rig "%s"', async (name, show) => {
    await onStage({ width, height, first: houseWords(show) }, async ({ page }) => {
      await page.screenshot({ path: `${PICTURES}stage-${name}-${width}x${height}.png` })
      expect(await axeFaults(page)).toEqual([])
      expect(await cutOff(page)).toEqual([])
    })
  })

  it('is legible before anything is known, and with lamps as a table', async () => {
    await onStage({ width, height, first: [] }, async ({ page }) => {
      await page.screenshot({ path: `${PICTURES}stage-connecting-${width}x${height}.png` })
      expect(await page.getByText('Looking for the host').isVisible()).toBe(true)
      expect(await axeFaults(page)).toEqual([])
    })
    await onStage({ width, height }, async ({ page }) => {
      await page.getByRole('button', { name: 'As a table' }).click()
      await page.getByRole('table').waitFor()
      await page.screenshot({ path: `${PICTURES}stage-table-${width}x${height}.png` })
      expect(await axeFaults(page)).toEqual([])
    })
  })

  it('has main readings of 28 pixels and a title of 56', async () => {
    await onStage({ width, height }, async ({ page }) => {
      const sizeOf = async (selector: string): Promise<number> =>
        page
          .locator('lan-stage-room')
          .locator(selector)
          .first()
          .evaluate((element) => {
            const { getComputedStyle } = globalThis as unknown as {
              getComputedStyle(element: unknown): { fontSize: string }
            }
            return Number.parseFloat(getComputedStyle(element).fontSize)
          })
      expect(await sizeOf('h1')).toBeGreaterThanOrEqual(56)
      // The plan is laid out once fonts are there and it knows its room.
      await expect.poll(() => sizeOf('.lamp.lit .note')).toBeGreaterThanOrEqual(28)
      expect(await sizeOf('.keys')).toBeGreaterThanOrEqual(28)
    })
  })
})

describe('the Stage', () => {
  it('says song, place, what comes next, tempo and tuning', async () => {
    await onStage({}, async ({ page, say }) => {
      expect(await page.getByRole('heading', { level: 1 }).textContent()).toContain('Dew on the panes')
      expect(await page.getByText('Stage, first of four').isVisible()).toBe(true)
      expect(await page.getByText('then Mist clock').isVisible()).toBe(true)
      expect(await page.getByText('97.0625 a minute').isVisible()).toBe(true)
      await say({ type: 'song', song: 'dew', position: 3 })
      await page.getByText('Stage, fourth of four').waitFor()
      expect(await page.getByText('the last of the set').isVisible()).toBe(true)
      expect(await page.getByRole('button', { name: 'Next song' }).isDisabled()).toBe(true)
    })
  })

  it('goes to the next and the previous song, and to any of the set by its place', async () => {
    await onStage({}, async ({ page, say, asked }) => {
      await page.getByRole('button', { name: 'Next song' }).click()
      await say({ type: 'song', song: 'mist', position: 1 })
      await page.getByText('Stage, second of four').waitFor()
      await page.getByRole('button', { name: 'Previous' }).click()
      await page.getByRole('button', { name: 'Set list' }).click()
      const places = page.getByRole('list', { name: 'Set list', exact: true }).getByRole('button')
      // Four places, and a variant in one of them.
      expect(await places.count()).toBe(5)
      expect(await places.nth(1).getAttribute('aria-current')).toBe('true')
      await places.nth(4).click()
      const went = async (): Promise<unknown[]> =>
        (await asked()).filter(({ type }) => type === 'go' || type === 'song')
      await expect.poll(went).toMatchObject([
        { type: 'go', to: 'next' },
        { type: 'go', to: 'previous' },
        { type: 'song', song: 'dew', position: 3 },
      ])
    })
  })

  it('turns songs by Page Down and Page Up, as pedals send them, and not by a key held down', async () => {
    await onStage({}, async ({ page, asked }) => {
      await page.keyboard.press('PageDown')
      await page.keyboard.down('PageDown')
      await page.keyboard.down('PageDown')
      await page.keyboard.up('PageDown')
      await page.keyboard.press('PageUp')
      const turns = async (): Promise<unknown[]> => (await asked()).filter(({ type }) => type === 'go')
      await expect.poll(turns).toMatchObject([{ to: 'next' }, { to: 'next' }, { to: 'previous' }])
    })
  })

  it('draws a lamp with its note, rate, error, duty and owner, steadily', async () => {
    const lamp = { lamp: 'ivy', on: true, part: 'low', player: 'bass', key: 57 }
    const lit: HostWord = {
      type: 'lamps',
      at: 3_000_000,
      lamps: [{ ...lamp, hz: 220, realHz: 219.9974, cents: -0.0205, duty: 0.125, claimedBy: 'low' }],
    }
    await onStage({ first: [...houseWords(), lit] }, async ({ page }) => {
      const figure = page.locator('.lamp.lit')
      await expect.poll(() => figure.count()).toBe(1)
      const text = (await figure.textContent())?.replaceAll(/\s+/g, ' ')
      expect(text).toMatch(/BA ?Ivy ?A3 ?220\.00 Hz ?\u22120\.02 ct ?13 %/)
      const light = figure.locator('.light')
      // A quarter of the most: half as bright to the eye.
      expect(await light.getAttribute('fill-opacity')).toBe('0.5')
      const motion = await light.evaluate((element) => {
        const { getComputedStyle } = globalThis as unknown as {
          getComputedStyle(element: unknown): { animationName: string; transitionDuration: string }
        }
        const { animationName, transitionDuration } = getComputedStyle(element)
        return { animationName, transitionDuration }
      })
      expect(motion).toEqual({ animationName: 'none', transitionDuration: '0s' })
      // The bass has a claim in this song: a second ring, in its ink.
      expect(await figure.locator('.claim').getAttribute('stroke')).not.toBe('none')
    })
  })

  it('says in big words what is waited for, until it has begun or is let be', async () => {
    await onStage({}, async ({ page, say, asked }) => {
      await say({ type: 'coming', song: 'mist', position: 1, enterAt: 'bar' })
      const coming = page.getByText('next bar: Mist clock')
      await coming.waitFor()
      expect(await page.getByText('then Mist clock').count()).toBe(0)
      expect(await coming.locator('xpath=ancestor::*[@role="status"]').count()).toBe(1)
      for (const size of SIZES) {
        await page.setViewportSize(size)
        await page.screenshot({ path: `${PICTURES}stage-coming-${size.width}x${size.height}.png` })
        expect(await axeFaults(page)).toEqual([])
      }
      await page.getByRole('button', { name: 'Stay' }).click()
      await expect.poll(async () => (await asked()).at(-1)).toMatchObject({ type: 'stay' })
      await say({ type: 'coming', song: null, position: null, enterAt: 'now' })
      await page.getByText('then Mist clock').waitFor()
      await say({ type: 'coming', song: 'growth', position: 2, enterAt: 'release' })
      await page.getByText('when these notes end: Slow growth').waitFor()
      await say({ type: 'song', song: 'growth', position: 2 })
      await page.getByText('Stage, third of four, one of two variants').waitFor()
      expect(await page.getByRole('button', { name: 'Stay' }).count()).toBe(0)
      await page.getByRole('button', { name: 'Variant: Slow growth, no bass' }).click()
      await expect.poll(async () => (await asked()).at(-1)).toMatchObject({ type: 'variant' })
      await say({ type: 'song', song: 'growth-bare', position: 2 })
      await page.getByRole('heading', { name: 'Slow growth, no bass' }).waitFor()
      expect(await page.getByText('Stage, third of four, one of two variants').isVisible()).toBe(true)
    })
  })

  it('passes over songs that are not played tonight', async () => {
    const show = demoShow()
    const songs = show.songs.map((song) => (song.id === 'mist' ? { ...song, skip: true } : song))
    await onStage({ first: houseWords({ ...show, songs }) }, async ({ page }) => {
      expect(await page.getByText('then Slow growth').isVisible()).toBe(true)
      await page.getByRole('button', { name: 'Set list' }).click()
      const list = page.getByRole('list', { name: 'Set list', exact: true })
      expect(await list.getByRole('button', { name: '2 Mist clock not tonight' }).count()).toBe(1)
      await list.getByRole('button', { name: 'or Slow growth, no bass' }).waitFor()
      expect(await axeFaults(page)).toEqual([])
    })
  })

  it('shows the notes for the players when asked to, and still after a reload', async () => {
    await onStage({}, async ({ page, say }) => {
      const notes = page.getByRole('region', { name: 'Notes for the players' })
      expect(await notes.count()).toBe(0)
      await page.getByRole('button', { name: 'Notes for the players' }).click()
      await notes.getByText('Keys: hold the low note').waitFor()
      for (const size of SIZES) {
        await page.setViewportSize(size)
        await page.screenshot({ path: `${PICTURES}stage-notes-${size.width}x${size.height}.png` })
        expect(await axeFaults(page)).toEqual([])
        expect(await cutOff(page)).toEqual([])
      }
      await page.reload()
      await notes.waitFor()
      await say({ type: 'song', song: 'mist', position: 1 })
      await notes.getByText('Keys: one key at a time').waitFor()
    })
  })

  it('draws a dark lamp that a claim keeps, with the mark of whom it is kept for, and says it in the table', async () => {
    const dark = demoShow().rig.lamps.map(({ id }) => ({ lamp: id, on: false }))
    const lamps = dark.map((one) => (one.lamp === 'palm' ? { ...one, claimedBy: 'low' } : one))
    const words: HostWord = { type: 'lamps', at: 3_000_000, lamps }
    await onStage({ first: [...houseWords(), words] }, async ({ page, say }) => {
      const figure = page.locator('.lamp', { hasText: 'Palm' })
      await expect.poll(() => figure.locator('.claim').getAttribute('stroke')).not.toBe('none')
      expect(await figure.locator('.owner').textContent()).toBe('BA')
      expect(await page.locator('.lamp.lit').count()).toBe(0)
      expect(await page.locator('.claim:not([stroke=none])').count()).toBe(1)
      await page.screenshot({ path: `${PICTURES}stage-kept-1280x800.png` })
      await page.getByRole('button', { name: 'As a table' }).click()
      const row = page.getByRole('row', { name: /^Palm/ })
      expect((await row.textContent())?.replaceAll(/\s+/g, ' ')).toMatch(
        /Palm.*Bass.*low, kept by its claim.*dark/,
      )
      await say({ type: 'lamps', at: 3_100_000, lamps: dark })
      await expect.poll(() => row.textContent()).not.toContain('kept')
    })
  })

  it('says the same in a table, a row a lamp', async () => {
    await onStage({}, async ({ page }) => {
      await page.getByRole('button', { name: 'As a table' }).click()
      const row = page.getByRole('row', { name: /^Fern/ })
      expect((await row.textContent())?.replaceAll(/\s+/g, ' ')).toMatch(
        /Fern.*Keys.*lead.*A3.*220\.00.*\u22120\.02.*8 %/,
      )
      expect(await page.getByRole('row', { name: /^Moss/ }).textContent()).toContain('dark')
      expect(await page.getByRole('row').count()).toBe(1 + demoShow().rig.lamps.length)
    })
  })

  it('says what players do, and which of their ports are not there', async () => {
    await onStage({}, async ({ page, say }) => {
      const players = page.getByRole('region', { name: 'Players' }).getByRole('listitem')
      expect(await players.nth(0).textContent()).toContain('A3')
      expect(await players.nth(0).textContent()).not.toContain('dropped')
      expect(await players.nth(2).textContent()).toContain('2 dropped')
      expect(await players.nth(2).textContent()).toMatch(/bend \u221212\.5 ct/)
      expect(await players.nth(2).textContent()).toContain('held back 18.4 ms, 20 ms at worst')
      expect(await players.nth(0).textContent()).not.toContain('held back')
      const message = 'no port of that name; plug it in'
      await say({
        type: 'port',
        port: { id: 'keys', kind: 'midi-in', name: 'Keybed', state: 'missing', message },
      })
      await players.nth(0).getByText('not there').waitFor()
      expect(await page.getByText('Keybed: not there.').isVisible()).toBe(true)
      const keys = [{ key: 60, velocity: 1, pedalled: true }]
      const at = 9_000_000
      await say({
        type: 'players',
        at,
        players: [
          {
            player: 'keys',
            keys,
            bendCents: 0,
            heardAt: at - 3_200_000,
            notes: 1,
            dropped: 0,
            drops: { floor: 0, mask: 0, crosstalk: 0, ghost: 0 },
          },
        ],
      })
      await players.nth(0).getByText('heard 3 s ago').waitFor()
      expect(await players.nth(0).textContent()).toContain('C4, held by the pedal')
    })
  })
})
