import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { FlashGuard } from '../../../src/domain/flash-guard.ts'
import type { Show } from '../../../src/domain/show.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import { overhang, ROOM_SIZES, roomFaults, scrollTo, takePicture } from '../../support/room-sizes.ts'

let browser: Browser
beforeAll(async () => void (browser = await startChromium()))
afterAll(() => browser?.close())

/** The song's form of the first song, without takes, in a show whose flash guard is `flash`. */
async function withSong(
  flash: FlashGuard,
  use: (house: EditedHouse) => Promise<void>,
  own?: FlashGuard,
): Promise<void> {
  const demo = demoShow()
  const songs = demo.songs.map((song, place) =>
    place === 0 ? { ...song, takes: [], ...(own ? { flash: own } : {}) } : song,
  )
  const show: Show = { ...demo, songs, guards: { ...demo.guards, flash } }
  const house = await EditedHouse.open(browser, { hash: '#sheet/dew', show })
  try {
    await house.page.locator('lan-song-form').waitFor()
    await use(house)
  } finally {
    await house.close()
  }
}

const OFF: FlashGuard = { action: 'off', since: '2026-11-20' }
const guardOf = ({ page }: EditedHouse) => page.getByRole('combobox', { name: 'Flash guard' })
const questionOf = ({ page }: EditedHouse) => page.getByRole('group', { name: 'Turn the flash guard off?' })

describe('the flash guard of a song', () => {
  test('is as the show, with what that is, or its own, and as the show again', () =>
    withSong({ action: 'limit', changes: 6 }, async (house) => {
      const guard = guardOf(house)
      expect(await guard.inputValue()).toBe('show')
      await house.page.getByText('The show’s flash guard limits: at most 6 changes').waitFor()
      await guard.selectOption('fold')
      expect(await house.next()).toMatchObject({
        label: 'flash guard of Dew on the panes',
        changes: [{ path: ['songs', 0, 'flash'], value: { action: 'fold' } }],
      })
      await house.page.getByText('move up by octaves: low notes').waitFor()
      await guard.selectOption('show')
      expect((await house.next()).changes).toEqual([{ do: 'remove', path: ['songs', 0, 'flash'] }])
      expect(house.show.songs[0]).not.toHaveProperty('flash')
    }))

  test('is off only after the question, which names the song, and one press turns it on again', () =>
    withSong({ action: 'warn' }, async (house) => {
      await guardOf(house).selectOption('off')
      const question = questionOf(house)
      await question.getByText('in Dew on the panes').waitFor()
      for (const [width, height] of ROOM_SIZES) {
        await house.page.setViewportSize({ width, height })
        await scrollTo(house.page, 'lan-flash-guard-form')
        await takePicture(house.page, 'sheet-guard-off')
        expect(await overhang(house.page)).toBe(0)
      }
      expect(await roomFaults(house.page, 'lan-song-form')).toEqual([])
      await question.getByRole('checkbox').check()
      expect(await house.waiting()).toEqual([])
      await question.getByRole('button', { name: /^Off from / }).click()
      expect((await house.next()).label).toMatch(
        /^flash guard off since \d{4}-\d\d-\d\d of Dew on the panes$/,
      )
      expect(house.show.songs[0]?.flash).toMatchObject({ action: 'off' })
      expect(house.show.guards.flash).toEqual({ action: 'warn' })
      await house.page.getByRole('button', { name: 'Turn it on again' }).click()
      await house.next()
      expect(house.show.songs[0]?.flash).toEqual({ action: 'warn' })
    }))

  test('cannot slip off by being as the show whose guard is off: that is asked as well, with its day', () =>
    withSong(
      OFF,
      async (house) => {
        await guardOf(house).selectOption('show')
        const question = questionOf(house)
        await question.getByText('this song would be as the show').waitFor()
        await question.getByRole('button', { name: 'Leave it on' }).click()
        await question.waitFor({ state: 'detached' })
        expect(await guardOf(house).inputValue()).toBe('limit')
        await guardOf(house).selectOption('show')
        await question.getByRole('checkbox').check()
        expect(await house.waiting()).toEqual([])
        await question.getByRole('button', { name: 'Off as the show, since 2026-11-20' }).click()
        expect((await house.next()).changes).toEqual([{ do: 'remove', path: ['songs', 0, 'flash'] }])
        await house.page.getByText('is off since 2026-11-20').waitFor()
      },
      { action: 'limit', changes: 4 },
    ))

  test('of another song is not what the question was about', () =>
    withSong({ action: 'warn' }, async (house) => {
      await guardOf(house).selectOption('off')
      await questionOf(house).waitFor()
      await house.page.getByRole('link', { name: 'Mist clock' }).click()
      await house.page.getByRole('heading', { name: 'Mist clock', level: 2 }).waitFor()
      expect(await questionOf(house).count()).toBe(0)
      expect(await house.waiting()).toEqual([])
    }))
})

test('takes of a song are listed by their paths, and Checks are said to count by them', () =>
  withSong({ action: 'warn' }, async (house) => {
    const { page } = house
    const takes = page.getByRole('group', { name: /^Standard MIDI Files/ })
    await takes.getByText('Checks count by them.').waitFor()
    await takes.getByRole('button', { name: 'Add one' }).click()
    await house.next()
    await takes.getByRole('button', { name: 'Add one' }).click()
    await house.next()
    expect(house.show.songs[0]?.takes).toEqual(['take.mid', 'take-2.mid'])
    const first = takes.getByRole('textbox', { name: 'Entry 1' })
    await first.fill('takes/rehearsal.mid')
    await first.press('Enter')
    await house.next()
    await takes.getByRole('button', { name: /^Remove .* Entry 2$/ }).click()
    await house.next()
    expect(house.show.songs[0]?.takes).toEqual(['takes/rehearsal.mid'])
    await scrollTo(page, 'lan-list-field')
    await takePicture(page, 'sheet-takes')
    expect(await roomFaults(page, 'lan-song-form')).toEqual([])
  }))
