import { mkdirSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import type { HostWord } from '../../support/house-words.ts'
import { houseWords } from '../../support/house-words.ts'
import type { ScreenPage, ScreenPageOptions } from '../../support/screen-page.ts'
import { openScreenPage } from '../../support/screen-page.ts'

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

async function inShell(
  options: ScreenPageOptions,
  use: (screen: ScreenPage) => Promise<void>,
): Promise<void> {
  const screen = await openScreenPage(browser, { hash: '#stage', first: houseWords(), ...options })
  try {
    await screen.page.locator('lan-room-rail .saved').waitFor()
    await use(screen)
  } finally {
    await screen.close()
  }
}

type ShowWord = Extract<HostWord, { type: 'show' }>

/** The words of the house with the show, or the welcome, told otherwise. */
function words(show: Partial<ShowWord> = {}, welcome: object = {}): HostWord[] {
  return houseWords().map((word) => {
    if (word.type === 'show') return { ...word, ...show }
    return word.type === 'welcome' ? { ...word, ...welcome } : word
  })
}

const REMOTE: HostWord = {
  type: 'remote',
  addresses: ['http://192.168.7.20:4407', 'http://[fd00::20]:4407'],
  code: '604 118',
  screens: 2,
  refused: 1,
}

describe.each(SIZES)('the shell at $width x $height', ({ width, height }) => {
  it.each([
    ['file', 'Show file'],
    ['screens', 'Second screen: 2'],
    ['words', 'New words: 1'],
  ])('opens the pane "%s" without faults of access; Escape gives the focus back', async (pane, button) => {
    await inShell(
      { width, height, first: [...words({ undo: 'tempo of Mist clock' }), REMOTE] },
      async ({ page }) => {
        const opener = page.getByRole('button', { name: button })
        await opener.click()
        await page.getByRole('dialog').waitFor()
        await page.screenshot({ path: `${PICTURES}shell-${pane}-${width}x${height}.png` })
        expect(await axeFaults(page)).toEqual([])
        const dark = page.getByRole('button', { name: 'Dark all lamps, F8' })
        await dark.click({ trial: true })
        await page.getByRole('dialog').getByRole('button').first().focus()
        await page.keyboard.press('Escape')
        await page.getByRole('dialog').waitFor({ state: 'detached' })
        const name = pane === 'words' ? 'All words' : button
        await expect
          .poll(() => page.getByRole('button', { name }).and(page.locator(':focus')).count())
          .toBe(1)
      },
    )
  })

  it('says that a show could not be loaded, in words and without faults of access', async () => {
    const failed: HostWord = { type: 'load-failed', message: '$.songs[0].tempo: a number above 0 is wanted' }
    const first = [...words().filter(({ type }) => type !== 'loaded'), failed]
    await inShell({ width, height, first }, async ({ page }) => {
      await page.getByText('The engine could not take the show. Nothing is played.').waitFor()
      await page.screenshot({ path: `${PICTURES}shell-load-failed-${width}x${height}.png` })
      expect(await axeFaults(page)).toEqual([])
    })
  })

  it('has the Dark key large, at the bottom right, with nothing before it', async () => {
    await inShell({ width, height }, async ({ page }) => {
      const box = await page.getByRole('button', { name: 'Dark all lamps, F8' }).boundingBox()
      if (!box) throw new Error('no Dark key to be seen')
      expect(box.width).toBeGreaterThanOrEqual(96)
      expect(box.height).toBeGreaterThanOrEqual(72)
      expect(width - box.x - box.width).toBeLessThanOrEqual(24)
      expect(height - box.y - box.height).toBeLessThanOrEqual(24)
    })
  })
})

describe('the Dark key', () => {
  it('asks at a click, and says that it was done once the engine said so', async () => {
    await inShell({}, async ({ page, say, asked }) => {
      await page.getByRole('button', { name: 'Dark all lamps, F8' }).click()
      await expect.poll(async () => (await asked()).at(-1)).toMatchObject({ type: 'dark-all' })
      const done = page.getByText('Done. Every output was told to go dark.')
      expect(await done.count()).toBe(0)
      await say({ type: 'dark' })
      await done.waitFor()
      expect(await done.getAttribute('role')).toBe('status')
    })
  })

  it('says so when no answer comes', async () => {
    await inShell({}, async ({ page }) => {
      await page.getByRole('button', { name: 'Dark all lamps, F8' }).click()
      const waiting = page.getByText('Asked, but the engine has not answered yet.')
      await waiting.waitFor()
      expect(await waiting.getAttribute('role')).toBe('status')
    })
  })

  it.each(['#stage', '#sheet', '#steps', '#tuning', '#rig', '#checks', '#monitor', '#start'])(
    'answers to F8 in %s, also while a field has the focus',
    async (hash) => {
      await inShell({ hash }, async ({ page, asked }) => {
        const darks = async (): Promise<number> =>
          (await asked()).filter(({ type }) => type === 'dark-all').length
        await page.keyboard.press('F8')
        await expect.poll(darks).toBe(1)
        const field = page.locator('input:visible, select:visible, textarea:visible').first()
        if ((await field.count()) > 0) await field.focus()
        await page.keyboard.press('F8')
        await expect.poll(darks).toBe(2)
      })
    },
  )
})

describe('the rail', () => {
  it('has every room as a link, the present one marked, and Alt with a digit as another way', async () => {
    await inShell({}, async ({ page }) => {
      const links = page.getByRole('navigation', { name: 'Rooms' }).getByRole('link')
      expect(await links.allTextContents()).toHaveLength(8)
      await links.getByText('Sheet').click()
      expect(new URL(page.url()).hash).toBe('#sheet')
      const current = page.locator('lan-room-rail a[aria-current=page]')
      await expect.poll(() => current.textContent()).toContain('Sheet')
      await page.keyboard.press('Alt+Digit6')
      await expect.poll(() => current.textContent()).toContain('Rig')
    })
  })

  it('names what undo and redo would do, by key too, but not while text is typed', async () => {
    const first = words({ undo: 'tempo of Mist clock', redo: 'name of Fern', isSaved: false })
    await inShell({ first }, async ({ page, asked }) => {
      expect(await page.getByText('Changes not saved').isVisible()).toBe(true)
      expect(await page.title()).toBe('* Glasshouse, second night - Lanthorn')
      await page.getByRole('button', { name: 'Undo tempo of Mist clock' }).click()
      await page.getByRole('button', { name: 'Redo name of Fern' }).click()
      await page.keyboard.press('Control+z')
      await page.keyboard.press('Control+Shift+Z')
      await page.keyboard.press('Control+y')
      const steps = async (): Promise<string[]> =>
        (await asked()).map(({ type }) => type).filter((type) => type === 'undo' || type === 'redo')
      await expect.poll(steps).toEqual(['undo', 'redo', 'undo', 'redo', 'redo'])
      await page.evaluate("document.body.append(document.createElement('input'))")
      await page.locator('body > input').focus()
      await page.keyboard.press('Control+z')
      expect(await steps()).toHaveLength(5)
    })
  })

  it('has nothing to undo before something was done', async () => {
    await inShell({}, async ({ page }) => {
      expect(await page.getByRole('button', { name: 'Undo nothing' }).isDisabled()).toBe(true)
    })
  })

  it('goes to real lamps only after the cautions were read', async () => {
    await inShell({ first: words({}, { areCautionsRead: false }) }, async ({ page, asked }) => {
      expect(await page.getByText('Caution, before real lamps are lit').isVisible()).toBe(true)
      await page.getByRole('button', { name: 'Use real lamps' }).click()
      const pane = page.locator('lan-cautions-pane')
      await pane.getByText('photosensitive').waitFor()
      expect(await axeFaults(page)).toEqual([])
      expect((await asked()).some(({ type }) => type === 'rig')).toBe(false)
      await pane.getByRole('button', { name: 'I have read this. Use real lamps' }).click()
      await expect
        .poll(async () => (await asked()).slice(-2))
        .toMatchObject([{ type: 'cautions-read' }, { type: 'rig', rig: 'real' }])
      await expect.poll(() => page.getByText('Caution, before real lamps are lit').count()).toBe(0)
    })
  })

  it('goes back to lamps in memory, and to real ones at once when cautions were read', async () => {
    await inShell({ first: words({ rig: 'real' }) }, async ({ page, say, asked }) => {
      expect(await page.getByText('Real lamps', { exact: true }).isVisible()).toBe(true)
      await page.getByRole('button', { name: 'Use lamps in memory' }).click()
      await say(...words().filter(({ type }) => type === 'show'))
      await page.getByRole('button', { name: 'Use real lamps' }).click()
      await expect
        .poll(async () => (await asked()).filter(({ type }) => type === 'rig'))
        .toMatchObject([{ rig: 'virtual' }, { rig: 'real' }])
    })
  })
})

describe('files in the desktop app', () => {
  it('are opened and saved by the system’s dialogs', async () => {
    await inShell({}, async ({ page, asked }) => {
      await page.getByRole('button', { name: 'Show file' }).click()
      await page.getByRole('button', { name: 'Save', exact: true }).click()
      await page.getByRole('button', { name: 'Open a show file' }).click()
      await expect
        .poll(async () => (await asked()).slice(-2))
        .toEqual([{ type: 'saveDialog' }, { type: 'openDialog' }])
    })
  })

  it('are saved where they came from', async () => {
    await inShell(
      { first: words({ file: '/shows/evening.json', isDemo: false }) },
      async ({ page, asked }) => {
        await page.getByRole('button', { name: 'Show file' }).click()
        await page.getByRole('button', { name: 'Save', exact: true }).click()
        await expect.poll(async () => (await asked()).at(-1)).toEqual({ v: 1, type: 'save' })
      },
    )
  })

  it('do not take the place of a show that is not saved before somebody says so', async () => {
    await inShell({ first: words({ isSaved: false }) }, async ({ page, asked }) => {
      const opened = async (): Promise<number> =>
        (await asked()).filter(({ type }) => type === 'open-demo').length
      const openDemo = async (): Promise<void> => {
        await page.getByRole('button', { name: 'Show file' }).click()
        await page.getByRole('button', { name: 'Open the demo' }).click()
      }
      await openDemo()
      const pane = page.locator('lan-unsaved-pane')
      await pane.getByRole('button', { name: 'Stay with it' }).click()
      expect(await opened()).toBe(0)
      await openDemo()
      expect(await axeFaults(page)).toEqual([])
      await pane.getByRole('button', { name: 'Go on without saving' }).click()
      await expect.poll(opened).toBe(1)
    })
  })

  it('go on by themselves once the show was saved', async () => {
    const file = '/shows/evening.json'
    await inShell({ first: words({ isSaved: false, file }) }, async ({ page, say, asked }) => {
      await page.getByRole('button', { name: 'Show file' }).click()
      await page.getByRole('button', { name: 'Open the demo' }).click()
      await page.locator('lan-unsaved-pane').getByRole('button', { name: 'Save', exact: true }).click()
      await expect.poll(async () => (await asked()).at(-1)).toMatchObject({ type: 'save' })
      await say(...words({ isSaved: true, file }).filter(({ type }) => type === 'show'))
      await page.getByRole('dialog').waitFor({ state: 'detached' })
      await expect.poll(async () => (await asked()).at(-1)).toMatchObject({ type: 'open-demo' })
    })
  })

  it('are opened when they are dropped on the page', async () => {
    await inShell({}, async ({ page, asked }) => {
      const drag = (type: string): Promise<unknown> =>
        page.evaluate(`{
          const dataTransfer = new DataTransfer()
          dataTransfer.items.add(new File(['{}'], 'evening.json', { type: 'application/json' }))
          const options = { dataTransfer, bubbles: true, cancelable: true }
          window.dispatchEvent(new DragEvent('${type}', options))
        }`)
      const hint = page.getByText('Let go to open this show')
      await drag('dragover')
      await hint.waitFor()
      await drag('drop')
      await hint.waitFor({ state: 'detached' })
      await expect.poll(async () => (await asked()).at(-1)).toEqual({ type: 'openDropped' })
    })
  })
})

describe('the menu of the desktop app', () => {
  it('does in the page what it says', async () => {
    await inShell(
      { first: words({ file: '/shows/evening.json', undo: 'x', redo: 'y' }) },
      async ({ page, asked }) => {
        const choose = (command: string): Promise<unknown> =>
          page.evaluate(`testMenu(${JSON.stringify(command)})`)
        for (const command of ['open', 'save', 'save-as', 'undo', 'redo', 'next-song', 'previous-song'])
          await choose(command)
        await expect
          .poll(async () => (await asked()).slice(-7))
          .toMatchObject([
            { type: 'openDialog' },
            { type: 'save' },
            { type: 'saveDialog' },
            { type: 'undo' },
            { type: 'redo' },
            { type: 'go', to: 'next' },
            { type: 'go', to: 'previous' },
          ])
        for (const [command, hash] of [
          ['tuning', '#tuning'],
          ['stage', '#stage'],
          ['new-show', '#start'],
        ] as const) {
          await choose(command)
          expect(new URL(page.url()).hash).toBe(hash)
        }
      },
    )
  })
})
