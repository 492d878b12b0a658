import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import { cutOff } from '../../support/cut-off.ts'
import { demoShow } from '../../support/demo.ts'
import { guardCounts } from '../../support/guard-counts.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import { inPage } from '../../support/in-page.ts'
import { overhang, ROOM_SIZES, takePicture } from '../../support/room-sizes.ts'
import type { ScreenPage, ScreenPageOptions } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

async function onStage(
  first: readonly HostWord[],
  use: (screen: ScreenPage) => Promise<void>,
  options: ScreenPageOptions = {},
): Promise<void> {
  const screen = await openScreenPage(browser, { hash: '#stage', first, ...options })
  try {
    await screen.page.locator('lan-stage-guards').waitFor()
    await use(screen)
  } finally {
    await screen.close()
  }
}

const SOME = guardCounts(
  { action: 'limit', changes: 6, lastSecond: 4, perSecondMax: 5, bandSeconds: 12, tied: 2 },
  { refused: 1 },
)
/** As much as can well come together. */
const MUCH = guardCounts(
  { action: 'fold', lastSecond: 24, perSecondMax: 60, bandSeconds: 598, folded: 1234 },
  {
    action: 'warn',
    exceeded: 3,
    heldDown: 7,
    supplies: [{ id: 'bench', limitAmps: 12, amps: 11.96, peakAmps: 12.4, meanAmps: 6 }],
  },
)

describe('how it stands with the guards', () => {
  test('is said in words: what is counted, what the show says until then, and that one is off', async () => {
    const show = {
      ...demoShow(),
      guards: { flash: { action: 'limit', changes: 6 }, supply: { action: 'warn' } },
    } as const
    await onStage(houseWords(show), async ({ page, say }) => {
      const guards = page.getByRole('region', { name: 'Guards' })
      await guards.getByText('Flash guard limits', { exact: true }).waitFor()
      await guards.getByText('Supply guard warns').waitFor()
      await say(
        guardCounts(
          { action: 'limit', changes: 6, tied: 2, lastSecond: 4, perSecondMax: 5, bandSeconds: 12 },
          { refused: 1 },
        ),
      )
      await guards.getByText('Flash guard limits: 2 notes tied').waitFor()
      const text = (await guards.locator('p').allTextContents()).join(' ').replaceAll(/\s+/g, ' ')
      expect(text).toContain('Warning: Flash guard limits: 2 notes tied')
      expect(text).toContain('4 flashes a second, most 5 (WCAG allows 3), 12 s at 3 to 30 Hz')
      expect(text).toContain('bench 1.7 of 2.0 A 1 refused')
      await say(guardCounts({ action: 'off', since: '2026-11-25', lastSecond: 4, perSecondMax: 5 }))
      await guards.getByText('Flash guard is off since 2026-11-25').waitFor()
      expect(await guards.getByText(/flashes? a second/).count()).toBe(0)
    })
  })

  test('goes by the song that plays, where that has a guard of its own', async () => {
    const show = demoShow()
    const songs = show.songs.map((song) =>
      song.id === 'mist' ? { ...song, flash: { action: 'off', since: '2026-11-20' } as const } : song,
    )
    await onStage(houseWords({ ...show, songs }), async ({ page, say }) => {
      const guards = page.locator('lan-stage-guards')
      await guards.getByText('Flash guard warns').waitFor()
      await say({ type: 'song', song: 'mist', position: 1 })
      await page.getByText('Flash guard is off since 2026-11-20').waitFor()
      await say({ type: 'song', song: 'dew', position: 0 })
      await guards.getByText('Flash guard warns').waitFor()
      expect(await guards.getByText('since').count()).toBe(0)
    })
  })

  test.each([
    [1280, 800, MUCH, '28px'],
    [820, 1180, MUCH, '28px'],
    [1024, 768, SOME, '24px'],
  ] as const)(
    'at %i x %i has its place whatever it says: nothing moves, nothing is cut, nothing is animated',
    async (width, height, counts, fontSize) => {
      await onStage(
        houseWords(),
        async ({ page, say }) => {
          const places = (): Promise<unknown> =>
            Promise.all(
              ['lan-stage-guards', 'lan-lamp-plan', 'lan-player-strip'].map((one) =>
                page.locator(one).boundingBox(),
              ),
            )
          const before = await places()
          await say(counts)
          await page.getByText(/most \d+ \(WCAG allows 3\)/).waitFor()
          expect(await places()).toEqual(before)
          await takePicture(page, 'stage-guards-much')
          const faults = await page
            .locator('lan-stage-guards p:not(.unseen)')
            .evaluateAll(
              inPage<string[]>(
                `(lines) => lines.filter((line) => line.scrollWidth > line.clientWidth || line.scrollHeight > line.clientHeight + 6).map((line) => line.textContent)`,
              ),
            )
          expect(faults).toEqual([])
          expect(await cutOff(page)).toEqual([])
          expect(await overhang(page)).toBe(0)
          expect(await axeFaults(page)).toEqual([])
          const style = await page
            .locator('lan-stage-guards .state')
            .first()
            .evaluate(
              inPage<Record<string, string>>(`(line) => {
          const { fontSize, animationName, transitionDuration, fontVariantNumeric } = getComputedStyle(line)
          return { fontSize, animationName, transitionDuration, fontVariantNumeric }
        }`),
            )
          expect(style).toEqual({
            fontSize,
            animationName: 'none',
            transitionDuration: '0s',
            fontVariantNumeric: 'tabular-nums',
          })
          await say(guardCounts({ action: 'off', since: '2026-11-25' }))
          await page.getByText('is off since 2026-11-25').waitFor()
          expect(await places()).toEqual(before)
          await takePicture(page, 'stage-guards-off')
        },
        { width, height },
      )
    },
  )

  test('is heard when it changes, not every second', async () => {
    await onStage(houseWords(), async ({ page, say }) => {
      const news = page.locator('lan-stage-guards [role=status]')
      await page.evaluate(`(() => {
        const find = (root) => root.querySelector('lan-stage-guards') ?? [...root.querySelectorAll('*')].map((one) => one.shadowRoot && find(one.shadowRoot)).find(Boolean)
        window.heard = []
        const status = find(document).shadowRoot.querySelector('[role=status]')
        new MutationObserver(() => window.heard.push(status.textContent)).observe(status, { subtree: true, childList: true, characterData: true })
      })()`)
      for (let second = 1; second <= 6; second++) {
        await say(
          guardCounts({ lastSecond: 3 + second, perSecondMax: 3 + second, folded: second }, {}, second * 1e6),
        )
        await page.getByText(`${3 + second} flashes a second`).waitFor()
      }
      expect(await news.textContent()).toBe('The flash guard has acted. More than 3 flashes a second.')
      expect(await page.evaluate('window.heard')).toHaveLength(1)
      // What counts on is outside of what is read aloud.
      expect(await page.locator('lan-stage-guards [aria-live], lan-stage-guards [role=status]').count()).toBe(
        1,
      )
    })
  })
})

describe('a lamp that glows', () => {
  const lamps = demoShow().rig.lamps.map(({ id }) => ({ lamp: id, on: false }))
  const glowing: HostWord = {
    type: 'lamps',
    at: 3_000_000,
    lamps: lamps.map((one) =>
      one.lamp === 'ivy'
        ? {
            lamp: 'ivy',
            on: true,
            part: 'low',
            player: 'bass',
            hz: 25_000,
            realHz: 25_000,
            duty: 0.125,
            glow: true,
          }
        : one,
    ),
  }

  test.each(ROOM_SIZES)(
    'at %i x %i is drawn as steadily lit, with that word in place of a note',
    async (width, height) => {
      await onStage(
        [...houseWords(), glowing],
        async ({ page }) => {
          const figure = page.locator('.lamp.lit')
          await expect.poll(() => figure.count()).toBe(1)
          expect((await figure.textContent())?.replaceAll(/\s+/g, ' ')).toMatch(
            /BA ?Ivy ?glows ?no note ?13 %/,
          )
          expect(await figure.locator('.light').getAttribute('fill-opacity')).toBe('0.5')
          expect(await cutOff(page)).toEqual([])
          await takePicture(page, 'stage-glow')
          await page.getByRole('button', { name: 'As a table' }).click()
          const row = page.getByRole('row', { name: /^Ivy/ })
          expect((await row.textContent())?.replaceAll(/\s+/g, ' ')).toMatch(
            /Ivy.*Bass.*low.*glows, no note.*13 %|12\.5 %/,
          )
          expect(await axeFaults(page)).toEqual([])
        },
        { width, height },
      )
    },
  )
})
