import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import type { HostWord } from '../../support/house-words.ts'
import { KeyboardForm } from '../../support/keyboard-form.ts'
import { overhang, ROOM_SIZES, takePicture } from '../../support/room-sizes.ts'

const FOUND: Extract<HostWord, { type: 'recoveries' }> = {
  type: 'recoveries',
  found: [
    {
      id: 'work-2',
      title: 'Glasshouse, third night',
      file: '/home/me/shows/third-night.json',
      at: '2031-03-12T21:04:09.000Z',
      message: 'The app ended before it was saved. It differs from the file in two songs.',
    },
    {
      id: 'work-1',
      title: 'Moss and glass',
      file: null,
      at: '2031-03-11T19:30:00.000Z',
      message: 'It was put aside for another show.',
    },
  ],
}
const BROKEN = Array.from(
  { length: 14 },
  (_, line) => `$.songs[${line}].tempo (line ${20 + 9 * line}): found 0; expected 10 to 1000`,
).join('\n')

let browser: Browser
beforeAll(async () => {
  browser = await startChromium()
})
afterAll(() => browser.close())

async function opened(
  more: readonly HostWord[],
  run: (house: EditedHouse, form: KeyboardForm) => Promise<void>,
): Promise<void> {
  const house = await EditedHouse.open(browser, { hash: '#stage', more })
  try {
    await house.page.locator('lan-player-strip').waitFor()
    await run(house, new KeyboardForm(house))
  } finally {
    await house.close()
  }
}

async function lastAsked(house: EditedHouse): Promise<object | undefined> {
  return (await house.screen.asked()).at(-1)
}

test('work that was not saved is offered at the start, opened, or thrown away after a second question', () =>
  opened([FOUND], async (house, form) => {
    const { page } = house
    const pane = page.getByRole('dialog', { name: 'Work that was not saved' })
    await pane.waitFor()
    const list = page.locator('lan-recoveries-pane')
    for (const [width, height] of ROOM_SIZES) {
      await page.setViewportSize({ width, height })
      await takePicture(page, 'recoveries')
      expect(await axeFaults(page)).toEqual([])
      expect(await overhang(page)).toBe(0)
    }
    expect(await list.getByText('/home/me/shows/third-night.json').isVisible()).toBe(true)
    expect(await list.locator('time').first().getAttribute('datetime')).toBe('2031-03-12T21:04:09.000Z')
    await list.getByRole('button', { name: /^Throw away Moss and glass/ }).focus()
    await form.press('Enter')
    await expect.poll(() => form.focused()).toBe('Keep it')
    expect((await house.screen.asked()).map(({ type }) => type)).not.toContain('recovery')
    await form.press('Shift+Tab')
    await form.press('Enter')
    await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'recovery', id: 'work-1', do: 'drop' })
    await house.screen.say({ ...FOUND, found: FOUND.found.slice(0, 1) })
    await list.getByText('Moss and glass').waitFor({ state: 'detached' })
    await page.keyboard.press('Escape')
    await pane.waitFor({ state: 'detached' })
    // It does not come back by itself, but can be asked for.
    await page.getByRole('button', { name: 'Unsaved work: 1' }).click()
    await list.getByRole('button', { name: /^Open Glasshouse, third night/ }).click()
    await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'recovery', id: 'work-2', do: 'open' })
    await pane.waitFor({ state: 'detached' })
  }))

test('opening it over a show that is not saved asks first; while locked it waits', () =>
  opened([FOUND], async (house) => {
    const { page } = house
    await house.changeElsewhere([{ do: 'set', path: ['title'], value: 'Changed' }])
    await page.getByRole('button', { name: /^Open Moss and glass/ }).click()
    await page.getByRole('dialog', { name: 'This show is not saved' }).waitFor()
    expect((await house.screen.asked()).map(({ type }) => type)).not.toContain('recovery')
    await page.getByRole('button', { name: 'Go on without saving' }).click()
    await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'recovery', id: 'work-1', do: 'open' })
    await house.lock(true)
    await page.getByRole('button', { name: 'Unsaved work: 2' }).click()
    await page.getByText('While the gig lock is on, it waits here.').waitFor()
    expect(await page.getByRole('button', { name: /^Open Moss and glass/ }).isDisabled()).toBe(true)
  }))

test('at a gig it does not stand in the way', async () => {
  const locked: HostWord = {
    type: 'show',
    revision: 1,
    show: demoShow(),
    file: '/home/me/shows/evening.json',
    isSaved: true,
    undo: null,
    redo: null,
    rig: 'real',
    isDemo: false,
    isLocked: true,
  }
  await opened([locked, FOUND], async (house) => {
    await house.page.getByRole('button', { name: 'Unsaved work: 2' }).waitFor()
    expect(await house.page.getByRole('dialog').count()).toBe(0)
  })
})

test('a show file that somebody else changed: read again, or written over, and what becomes of what', () =>
  opened([], async (house, form) => {
    const { page } = house
    const message = 'evening.json was changed by somebody else at 21:04:09: it differs in songs[1].tempo.'
    await house.screen.say({ type: 'file-changed', message })
    await page.getByText(message).waitFor()
    for (const [width, height] of ROOM_SIZES) {
      await page.setViewportSize({ width, height })
      await takePicture(page, 'file-changed')
      expect(await axeFaults(page)).toEqual([])
      expect(await overhang(page)).toBe(0)
    }
    await form.push('Read it again')
    await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'file-changed', do: 'read-again' })
    await form.push('Write ours over it')
    await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'file-changed', do: 'write-over' })
    await house.lock(true)
    await expect.poll(() => page.getByRole('button', { name: 'Read it again' }).isDisabled()).toBe(true)
    expect(await page.getByRole('button', { name: 'Write ours over it' }).isDisabled()).toBe(false)
    await house.screen.say({ type: 'file-changed', message: null })
    await page.getByText(message).waitFor({ state: 'detached' })
  }))

test('a broken file is told whole until it is closed, and everything else can be used', () =>
  opened([{ type: 'failed', what: '/home/me/shows/broken.json', message: BROKEN }], async (house, form) => {
    const { page } = house
    const heading = page.getByRole('heading', { name: 'It did not work: /home/me/shows/broken.json' })
    await heading.waitFor()
    for (const [width, height] of ROOM_SIZES) {
      await page.setViewportSize({ width, height })
      await takePicture(page, 'broken-file')
      expect(await axeFaults(page)).toEqual([])
      expect(await overhang(page)).toBe(0)
    }
    const text = page.locator('lan-failure-notice pre')
    expect(await text.textContent()).toBe(BROKEN)
    await page.getByRole('button', { name: 'Next song' }).click()
    await expect.poll(() => lastAsked(house)).toMatchObject({ type: 'go', to: 'next' })
    // Words that come after it do not take it away, nor does another room.
    await house.screen.say({
      type: 'diagnostic',
      at: 1,
      diagnostic: { level: 'info', source: 'wire', code: 'x', message: 'something else' },
    })
    await page.evaluate(`location.hash = '#songs'`)
    await page.locator('lan-control-form').first().waitFor()
    expect(await heading.isVisible()).toBe(true)
    await form.push('Close')
    await heading.waitFor({ state: 'detached' })
    await house.screen.say({ type: 'failed', what: 'other.json', message: 'it is not there' })
    await page.getByRole('heading', { name: 'It did not work: other.json' }).waitFor()
  }))
