import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import { houseWords } from '../../support/house-words.ts'
import { KeyboardForm } from '../../support/keyboard-form.ts'
import { overhang, ROOM_SIZES, takePicture } from '../../support/room-sizes.ts'
import { openScreenPage } from '../../support/screen-page.ts'

/** What may still be worked: ways of seeing, playing, changing songs, the lock itself, and saving. */
const STAYS = [
  /: Dark/,
  /: Unlock/,
  /: Show file$/,
  /: (New words: 1|All words)$/,
  /^#stage: (Next song|Previous|Set list|Notes for the players|As a table|Tap tempo|Stop beats|From beat 1)$/,
  /^#songs: .*: go to it$/,
  /^#songs: (Go to .*|Change control \d|Make the sheet)$/,
  /^#steps: (Song|Tap sets and rests|Tap chooses|Lamp of the next row|Bars shown|Hold the picture)$/,
  // What is shown of the tuning, a duty to try in the picture alone, and a chord to look at.
  /^#tuning: (Song|Part|Lamp|dB below the first|share of full light|1\/\d|.* \d+ %|Keys of the chord|[A-G]#?\d on|Take what .* holds)$/,
  // Another tuning for the song that plays is playing; a file of one takes nothing away.
  /^#tuning: (Its own: even|twelfth|nineteen|Notes to come|What sounds as well|Save as files: tuning .*)$/,
  /^#rig: (Players|Outputs|Supplies|Guards|Lamps|Clock|Look for ports again)$/,
  /^#checks: (Song|(Faults|Warnings|Notes) \d+|Date on the page|Make the page for the venue)$/,
  /^#monitor: (Source|Text contains|Pause|Copy|Clear|in|out|light|word)$/,
]

/** Names of everything on the page that can be worked: buttons and fields that are neither disabled nor read only, in all shadows. */
function workable(page: Page): Promise<string[]> {
  return page.evaluate<string[]>(`(() => {
    const found = []
    const visit = (root) => {
      for (const element of root.querySelectorAll('*')) {
        if (element.shadowRoot) visit(element.shadowRoot)
        if (!element.matches('button, input, select, textarea, [contenteditable], [role=slider]')) continue
        if (element.disabled || element.readOnly || element.getAttribute('aria-disabled') === 'true') continue
        found.push((element.getAttribute('aria-label') ?? element.labels?.[0]?.textContent ?? element.textContent).trim().replace(/\\s+/g, ' '))
      }
    }
    visit(document)
    return found
  })()`)
}

const ROOMS: readonly (readonly [hash: string, shown: string])[] = [
  ['#stage', 'lan-player-strip'],
  ['#songs', 'lan-control-form'],
  ['#sheet', 'lan-song-form'],
  ['#sheet/mist/arc', 'lan-part-form'],
  ['#sheet/dew/drips', 'lan-part-form'],
  ['#steps', 'lan-pattern-pads'],
  ['#tuning', 'lan-tuning-list'],
  ['#rig', 'lan-rig-lamps'],
  ['#checks', 'lan-checks-room'],
  ['#monitor', 'lan-event-log'],
  ['#start', '.shut'],
]

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())

async function opened(
  hash: string,
  run: (house: EditedHouse, form: KeyboardForm) => Promise<void>,
): Promise<void> {
  const house = await EditedHouse.open(browser, { hash })
  try {
    await house.page.getByRole('button', { name: 'Lock for the gig' }).waitFor()
    await run(house, new KeyboardForm(house))
  } finally {
    await house.close()
  }
}

async function lastAsked(house: EditedHouse): Promise<object | undefined> {
  return (await house.screen.asked()).at(-1)
}

describe('while the gig lock is on', () => {
  test('nothing that edits can be worked, in any room; what plays can', () =>
    opened('#stage', async (house) => {
      const { page } = house
      await house.lock(true)
      await page.getByText('Gig lock is on.').waitFor()
      const left: string[] = []
      for (const [hash, shown] of ROOMS) {
        await page.evaluate(`location.hash = ${JSON.stringify(hash)}`)
        await page.locator(shown).first().waitFor()
        const names = await workable(page)
        left.push(
          ...names.map((name) => `${hash}: ${name}`).filter((name) => !STAYS.some((one) => one.test(name))),
        )
        expect(await page.getByText('Gig lock is on.').count()).toBe(1)
      }
      expect(left).toEqual([])
      await house.lock(false)
      // The same page lets everything be worked again, and this test would see it.
      await page.evaluate(`location.hash = '#rig'`)
      await page.getByRole('button', { name: 'Add a lamp' }).and(page.locator(':enabled')).waitFor()
      expect((await workable(page)).length).toBeGreaterThan(100)
    }))

  test('keys cannot edit either, and nothing is sent', () =>
    opened('#sheet', async (house, form) => {
      const { page } = house
      const before = page.getByRole('textbox', { name: 'Title' })
      await before.fill('Half a word')
      await house.lock(true)
      await page.getByText('Gig lock is on.').waitFor()
      // What was being typed is not sent: the host would only refuse it.
      await form.press('Enter')
      await form.tabTo('Tempo')
      for (const key of ['ArrowUp', '1', 'Enter']) await form.press(key)
      expect(await form.shown()).toBe('97.0625')
      await page.getByRole('button', { name: 'Fern, part lead: first of four' }).focus()
      for (const key of ['Space', 'Alt+ArrowRight', 'Enter']) await form.press(key)
      await form.press('Control+z')
      await page.getByText('Unlock first.').first().waitFor()
      await page.evaluate(`location.hash = '#rig'`)
      await page.getByRole('button', { name: 'Place of Fern' }).focus()
      for (const key of ['ArrowLeft', 'ArrowUp']) await form.press(key)
      await page.getByRole('button', { name: 'Dark all lamps, F8' }).focus()
      await form.press('F8')
      await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'dark-all' })
      const types = (await house.screen.asked()).map(({ type }) => type)
      expect(types.filter((type) => type === 'edit' || type === 'undo')).toEqual([])
      await page.evaluate(`location.hash = '#tuning'`)
      await form.push('nineteen')
      await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'tune', tuning: 'nineteen' })
      await page.evaluate(`location.hash = '#stage'`)
      await form.press('PageDown')
      await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'go', to: 'next' })
    }))

  test('learning ends, and a show that is dropped or asked for does not come', () =>
    opened('#songs', async (house, form) => {
      await form.push('Add a control by playing')
      await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'learn' })
      await house.lock(true)
      await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'learn-end' })
      await house.page.evaluate(`testMenu('open')`)
      await house.page.getByText('Unlock first.').first().waitFor()
      expect((await house.screen.asked()).map(({ type }) => type)).not.toContain('openDialog')
      await form.push('Show file')
      await house.page.getByText('no other show is opened').waitFor()
      expect(await house.page.getByRole('button', { name: 'Open the demo' }).isDisabled()).toBe(true)
    }))
})

describe('the lock', () => {
  test('goes on with one press, and off when held for a second, or by two with keys', () =>
    opened('#stage', async (house, form) => {
      const { page } = house
      await form.push('Lock for the gig')
      await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'lock', locked: true })
      await house.lock(true)
      // The focus stays where the key is.
      await expect.poll(() => form.focused()).toMatch(/^Unlock/)
      expect(
        await page.getByText('Gig lock is on.').locator('xpath=ancestor::*[@role="status"]').count(),
      ).toBe(1)
      const asked = (await house.screen.asked()).length

      await form.press('Enter')
      await expect.poll(() => form.focused()).toBe('Yes, unlock')
      await form.press('Escape')
      await expect.poll(() => form.focused()).toMatch(/^Unlock/)
      const key = page.getByRole('button', { name: /^Unlock/ })
      await key.click()
      expect((await house.screen.asked()).length).toBe(asked)

      const box = await key.boundingBox()
      if (!box) throw new Error('no key to unlock')
      await page.mouse.move(box.x + 20, box.y + 10)
      await page.mouse.down()
      await page.getByText('hold on').waitFor()
      await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'lock', locked: false })
      await page.mouse.up()
      await house.lock(false)
      await page.getByRole('button', { name: 'Lock for the gig' }).waitFor()

      await house.lock(true)
      await form.tabTo('Unlock... hold for a second')
      await form.press('Space')
      await expect.poll(() => form.focused()).toBe('Yes, unlock')
      const count = (await house.screen.asked()).length
      await form.press('Enter')
      await expect
        .poll(async () => (await house.screen.asked()).slice(count))
        .toMatchObject([{ type: 'lock', locked: false }])
    }))

  test('is not taken off from another device, which is told so', async () => {
    const first = houseWords().map((word) => {
      if (word.type === 'welcome') return { ...word, place: 'remote' as const, mayFiles: false }
      return word.type === 'show' ? { ...word, isLocked: true } : word
    })
    const screen = await openScreenPage(browser, { hash: '#stage', first })
    try {
      await screen.page.getByText('The machine that plays takes it off.').waitFor()
      expect(await screen.page.getByRole('button', { name: /^Unlock/ }).count()).toBe(0)
    } finally {
      await screen.close()
    }
  })

  test('is plain to see at every size, without faults of access', () =>
    opened('#stage', async (house) => {
      const { page } = house
      await house.lock(true)
      await page.getByText('Gig lock is on.').waitFor()
      for (const [width, height] of ROOM_SIZES) {
        await page.setViewportSize({ width, height })
        for (const room of ['stage', 'songs', 'rig']) {
          await page.evaluate(`location.hash = '#${room}'`)
          await page.locator(`lan-${room}-room`).waitFor()
          await takePicture(page, `lock-${room}`)
          expect(await overhang(page)).toBe(0)
        }
        expect(await axeFaults(page)).toEqual([])
      }
    }))
})
