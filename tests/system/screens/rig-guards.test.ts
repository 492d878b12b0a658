import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import { KeyboardForm } from '../../support/keyboard-form.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

async function withRig(
  use: (house: EditedHouse, form: KeyboardForm) => Promise<void>,
  options: Partial<Parameters<typeof EditedHouse.open>[1]> = {},
): Promise<void> {
  const house = await EditedHouse.open(browser, { hash: '#rig', ...options })
  try {
    await house.page.getByRole('heading', { name: 'Guards' }).waitFor()
    await use(house, new KeyboardForm(house))
  } finally {
    await house.close()
  }
}

/** Late on the 24th at Greenwich it is the 25th in the morning there. */
const ABROAD = { timezoneId: 'Pacific/Auckland' }
const LATE = new Date('2026-11-24T20:30:00Z')

describe('the flash guard', () => {
  test('is chosen, and its numbers are those of what was chosen', () =>
    withRig(async (house) => {
      const { page } = house
      const guard = page.getByRole('combobox', { name: 'Flash guard' })
      await guard.selectOption('glow')
      await house.next()
      expect(house.show.guards.flash).toEqual({ action: 'glow', seconds: 4, hz: 25_000 })
      const hz = page.getByRole('spinbutton', { name: 'At a rate of' })
      await hz.fill('19000')
      await hz.press('Enter')
      await page.getByText('found 19000; expected').waitFor()
      await hz.fill('30000')
      await hz.press('Enter')
      await house.next()
      const seconds = page.getByRole('spinbutton', { name: 'Glows on after the last note for' })
      await seconds.fill('1.5')
      await seconds.press('Enter')
      await house.next()
      expect(house.show.guards.flash).toEqual({ action: 'glow', seconds: 1.5, hz: 30_000 })
      await guard.selectOption('limit')
      await house.next()
      const changes = page.getByRole('spinbutton', { name: 'Changes in any second, at most' })
      await changes.fill('4')
      await changes.press('Enter')
      await house.next()
      expect(house.show.guards.flash).toEqual({ action: 'limit', changes: 4 })
      await guard.selectOption('fold')
      expect((await house.next()).changes).toHaveLength(1)
      expect(house.show.guards.flash).toEqual({ action: 'fold' })
      await hz.waitFor({ state: 'detached' })
    }))

  test('is off only once somebody has read what that means, ticked it, and pressed the key with its day', () =>
    withRig(async (house) => {
      const { page } = house
      await page.clock.setFixedTime(LATE)
      const guard = page.getByRole('combobox', { name: 'Flash guard' })
      await guard.selectOption('off')
      const question = page.getByRole('group', { name: 'Turn the flash guard off?' })
      await question.getByText('People with photosensitive epilepsy can be harmed').waitFor()
      // It is part of the form: no browser's dialog, nothing over the page, and the guard still is what it was.
      expect(await page.getByRole('dialog').count()).toBe(0)
      await page.getByRole('button', { name: /^Dark/ }).click({ trial: true })
      expect(await guard.inputValue()).toBe('warn')
      const key = question.getByRole('button', { name: 'Off from 2026-11-25' })
      expect(await key.isDisabled()).toBe(true)
      await question.getByRole('button', { name: 'Leave it on' }).click()
      await question.waitFor({ state: 'detached' })
      await guard.selectOption('off')
      await question.getByRole('checkbox').check()
      await takePicture(page, 'rig-guard-off-asked')
      expect(await house.waiting()).toEqual([])
      await key.click()
      const edit = await house.next()
      expect(edit).toMatchObject({
        label: 'flash guard off since 2026-11-25',
        changes: [{ do: 'set', path: ['guards', 'flash'], value: { action: 'off', since: '2026-11-25' } }],
      })
      await page.getByText('is off since 2026-11-25').first().waitFor()
      expect(await question.count()).toBe(0)
      // One press, and it is on again.
      await page.getByRole('button', { name: 'Turn it on again' }).click()
      await house.next()
      expect(house.show.guards.flash).toEqual({ action: 'warn' })
      expect(await house.waiting()).toEqual([])
    }, ABROAD))

  test('is turned off by keys alone, the focus going where the question is and back', () =>
    withRig(async (house, form) => {
      const { page } = house
      const guard = page.getByRole('combobox', { name: 'Flash guard' })
      const question = page.getByRole('group', { name: 'Turn the flash guard off?' })
      await guard.focus()
      await form.press('End')
      await question.waitFor()
      await expect.poll(() => form.focused()).toBe('Turn the flash guard off?')
      await form.press('Escape')
      await question.waitFor({ state: 'detached' })
      await expect.poll(() => form.focused()).toBe('Flash guard')
      await form.press('End')
      await expect.poll(() => form.focused()).toBe('Turn the flash guard off?')
      await form.press('Tab')
      await form.press('Space')
      await form.press('Tab')
      await expect.poll(() => form.focused()).toMatch(/^Off from \d{4}-\d\d-\d\d$/)
      await form.press('Enter')
      await house.next()
      expect(house.show.guards.flash).toMatchObject({ action: 'off' })
      await expect.poll(() => form.focused()).toBe('Flash guard')
    }))

  test('is not asked about any more, and cannot be turned on or off, once the gig lock is on', () =>
    withRig(async (house) => {
      const { page } = house
      await page.getByRole('combobox', { name: 'Flash guard' }).selectOption('off')
      const question = page.getByRole('group', { name: 'Turn the flash guard off?' })
      await question.getByRole('checkbox').check()
      await house.lock(true)
      await question.waitFor({ state: 'detached' })
      expect(await page.getByRole('combobox', { name: 'Flash guard' }).isDisabled()).toBe(true)
      expect(await page.getByRole('combobox', { name: 'Supply guard' }).isDisabled()).toBe(true)
      await house.lock(false)
      await house.changeElsewhere([
        { do: 'set', path: ['guards', 'flash'], value: { action: 'off', since: '2026-11-20' } },
      ])
      const again = page.getByRole('button', { name: 'Turn it on again' })
      await again.and(page.locator(':enabled')).waitFor()
      await house.lock(true)
      await again.and(page.locator(':disabled')).waitFor()
      expect(await house.waiting()).toEqual([])
    }))

  test('of songs that have their own is listed, with the way there', () => {
    const show = demoShow()
    const songs = show.songs.map((song) =>
      song.id === 'mist' ? { ...song, flash: { action: 'limit', changes: 4 } as const } : song,
    )
    return withRig(
      async ({ page }) => {
        const link = page.locator('lan-rig-guards').getByRole('link', { name: 'Mist clock' })
        expect(await link.getAttribute('href')).toBe('#sheet/mist')
        expect(await page.getByText('at most 4 changes of the field in a second').isVisible()).toBe(true)
      },
      { show: { ...show, songs } },
    )
  })
})

test('the supply guard is chosen, and supplies say what it comes to', () =>
  withRig(async (house) => {
    const { page } = house
    const guard = page.getByRole('combobox', { name: 'Supply guard' })
    expect(await guard.inputValue()).toBe('refuse')
    for (const action of ['steal', 'warn', 'refuse'] as const) {
      await guard.selectOption(action)
      expect((await house.next()).changes).toEqual([
        { do: 'set', path: ['guards', 'supply', 'action'], value: action },
      ])
      expect(house.show.guards.supply.action).toBe(action)
    }
    await house.changeElsewhere([{ do: 'set', path: ['rig', 'supplies', 0, 'maxAmps'], value: 1 }])
    await page.getByText('Lamps past it are refused while playing.').waitFor()
    await guard.selectOption('steal')
    await house.next()
    await page.getByText('those lit longest go dark for them').waitFor()
  }))

test('a lamp is said to bear less in the mean than it draws, with its figures, and no more', () =>
  withRig(async (house) => {
    const { page } = house
    const fern = () => house.show.rig.lamps.find(({ id }) => id === 'fern')
    const bears = page.getByRole('checkbox', { name: 'Fern bears less in the mean than it draws' })
    expect(await bears.isChecked()).toBe(false)
    await bears.click()
    await house.next()
    await expect.poll(() => bears.isChecked()).toBe(true)
    const watts = page.getByRole('spinbutton', { name: 'Watts in the mean of Fern, W' })
    await watts.fill('0')
    await watts.press('Enter')
    await page.getByText('found 0; expected').waitFor()
    await watts.fill('2.5')
    await watts.press('Enter')
    expect((await house.next()).label).toBe('mean power of Fern')
    const seconds = page.getByRole('spinbutton', { name: 'Mean over of Fern, s' })
    await seconds.fill('30')
    await seconds.press('Enter')
    await house.next()
    expect(fern()?.heat).toEqual({ meanWatts: 2.5, seconds: 30 })
    for (const [width, height] of ROOM_SIZES) {
      await page.setViewportSize({ width, height })
      await scrollTo(page, '#lamps')
      await takePicture(page, 'rig-heat')
    }
    await bears.click()
    await house.next()
    expect(fern()).not.toHaveProperty('heat')
    await watts.waitFor({ state: 'detached' })
  }))

test.each(ROOM_SIZES)(
  'at %i x %i guards have no faults of access, and what is asked has room',
  (width, height) =>
    withRig(
      async ({ page }) => {
        await scrollTo(page, '#guards')
        await takePicture(page, 'rig-guards')
        await page.getByRole('combobox', { name: 'Flash guard' }).selectOption('off')
        await page.getByRole('group', { name: 'Turn the flash guard off?' }).waitFor()
        await takePicture(page, 'rig-guard-off')
        expect(await roomFaults(page, 'lan-rig-guards')).toEqual([])
        expect(await overhang(page)).toBe(0)
      },
      { width, height },
    ),
)
