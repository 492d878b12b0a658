import { mkdirSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Show } from '../../../src/domain/show.ts'
import { parseShow } from '../../../src/show/parse-show.ts'
import { strategies } from '../../../src/strategies/registry.ts'
import { axeFaults } from '../../support/axe.ts'
import { startChromium } from '../../support/chromium.ts'
import { demoShow } from '../../support/demo.ts'
import { EditedHouse } from '../../support/edited-house.ts'
import { KeyboardForm } from '../../support/keyboard-form.ts'

const SIZES = [
  [1280, 800],
  [820, 1180],
] as const
const SHOTS = resolve(import.meta.dirname, '../../../dist/screenshots')

let browser: Browser
beforeAll(async () => {
  mkdirSync(SHOTS, { recursive: true })
  browser = await startChromium()
})
afterAll(() => browser.close())

async function opened(
  hash: string,
  run: (house: EditedHouse, form: KeyboardForm) => Promise<void>,
  options: Partial<Parameters<typeof EditedHouse.open>[1]> = {},
): Promise<void> {
  const house = await EditedHouse.open(browser, { hash, ...options })
  try {
    await run(house, new KeyboardForm(house))
  } finally {
    await house.close()
  }
}

function cell(house: EditedHouse, name: string) {
  return house.page.getByRole('button', { name, exact: true })
}

describe('the sheet', () => {
  test('says of each lamp and part what they are to each other', () =>
    opened('#sheet', async (house) => {
      for (const name of [
        'Fern, part lead: first of four',
        'Moss, part lead: second of four',
        'Ivy, part lead: not used',
        'Sedge, part lead: fourth of four, low may take it',
        'Sedge, part low: first of three, claimed, shared with lead',
      ]) {
        await cell(house, name).waitFor()
      }
      const pressed = house.page.locator('lan-sheet-grid').getByRole('button', { pressed: true })
      expect(await pressed.count()).toBe(11)
      // One stop for Tab: the rest is reached by arrows.
      expect(await house.page.locator('lan-sheet-grid [tabindex="0"]').count()).toBe(1)
      await house.page.getByText('Changing the playing song darkens its lamps for a moment.').waitFor()
    }))

  test('shows the song in the address, else the one that plays', () =>
    opened('#sheet/mist', async (house) => {
      await house.page.getByRole('heading', { name: 'Mist clock' }).waitFor()
      expect(await house.page.getByText('Changing the playing song').count()).toBe(0)
      await house.page.getByRole('link', { name: 'Slow growth', exact: true }).click()
      await house.page.getByRole('heading', { name: 'Slow growth' }).waitFor()
    }))

  test('takes a lamp in and out, and orders it, with the keyboard', () =>
    opened('#sheet', async (house, form) => {
      await form.tabTo('Fern, part lead: first of four')
      for (const key of ['ArrowRight', 'ArrowRight', 'ArrowRight', 'ArrowRight']) await form.press(key)
      expect(await form.focused()).toBe('Ivy, part lead: not used')
      await form.press('Space')
      const taken = await house.next()
      expect(taken).toMatchObject({ base: 1, label: 'Lamps of lead in Dew on the panes' })
      expect(taken.changes).toEqual([
        {
          do: 'set',
          path: ['songs', 0, 'parts', 0, 'lamps'],
          value: ['fern', 'moss', 'reed', 'sedge', 'ivy'],
        },
      ])
      await expect.poll(() => form.focused()).toBe('Ivy, part lead: fifth of five, shared with drips')
      await form.press('Alt+ArrowLeft')
      await house.next()
      await expect.poll(() => form.focused()).toBe('Ivy, part lead: fourth of five, shared with drips')
      await form.press('Alt+ArrowDown')
      await house.next()
      await expect.poll(() => form.focused()).toBe('Ivy, part lead: fifth of five, shared with drips')
      // The last of the order has no later.
      await form.press('Alt+ArrowRight')
      await form.press('Space')
      await house.next()
      await expect.poll(() => form.focused()).toBe('Ivy, part lead: not used')
      expect(house.show.songs[0]?.parts[0]?.lamps).toEqual(['fern', 'moss', 'reed', 'sedge'])
      await form.press('ArrowDown')
      expect(await form.focused()).toBe('Ivy, part low: not used')
      await form.press('Control+End')
      expect(await form.focused()).toBe('Sundew, right of the path, part drips: fourth of four')
      await form.press('Home')
      await form.press('Enter')
      await expect.poll(() => house.page.url()).toContain('#sheet/dew/drips')
      await expect.poll(() => form.focused()).toBe('drips')
    }))

  test('a chime’s keys go with its lamps', () =>
    opened('#sheet', async (house) => {
      await cell(house, 'Ivy, part drips: first of four').click()
      expect((await house.next()).changes).toEqual([
        { do: 'set', path: ['songs', 0, 'parts', 2, 'lamps'], value: ['vine', 'orchid', 'sundew'] },
        { do: 'set', path: ['songs', 0, 'parts', 2, 'strategy', 'notes'], value: [62, 66, 70] },
      ])
      await cell(house, 'Ivy, part drips: not used').waitFor()
    }))

  test('edits wait for each other, so that each names the revision it is made on', () =>
    opened('#sheet', async (house) => {
      await cell(house, 'Ivy, part lead: not used').click()
      await cell(house, 'Palm, by the tank, part lead: not used').click()
      await house.asked()
      expect(await house.waiting()).toHaveLength(1)
      // Nothing is shown before the host has said so.
      await cell(house, 'Ivy, part lead: not used').waitFor()
      expect((await house.next()).base).toBe(1)
      const second = await house.next()
      expect(second.base).toBe(2)
      expect(second.changes[0]).toMatchObject({ value: ['fern', 'moss', 'reed', 'sedge', 'ivy', 'palm'] })
      await cell(house, 'Palm, by the tank, part lead: sixth of six, low may take it').waitFor()
    }))

  test('an edit that another screen came before is worked out again', () =>
    opened('#sheet', async (house) => {
      await cell(house, 'Ivy, part lead: not used').click()
      await house.asked()
      await house.changeElsewhere([{ do: 'set', path: ['songs', 0, 'parts', 0, 'lamps'], value: ['moss'] }])
      // The host has another revision by now.
      expect((await house.next()).base).toBe(1)
      const again = await house.next()
      expect(again.base).toBe(2)
      expect(again.changes[0]).toMatchObject({ value: ['moss', 'ivy'] })
      await cell(house, 'Ivy, part lead: second of two, shared with drips').waitFor()
      expect(await house.page.locator('lan-sheet-grid .fault').count()).toBe(0)
    }))

  test('of two edits in a row, one that another screen came before is not lost', () =>
    opened('#sheet', async (house) => {
      await cell(house, 'Ivy, part lead: not used').click()
      await cell(house, 'Fern, part low: not used').click()
      await house.asked()
      // The screen cannot know whose doing this is, and goes on with the second.
      await house.changeElsewhere([{ do: 'set', path: ['songs', 1, 'tempo'], value: 99 }])
      await house.countAsked(2)
      expect((await house.next()).base).toBe(1)
      expect((await house.next()).base).toBe(2)
      await house.next()
      await cell(house, 'Ivy, part lead: fifth of five, shared with drips').waitFor()
      expect(house.show.songs[0]?.parts.map(({ lamps }) => lamps.length)).toEqual([5, 4, 4])
    }))

  test('what is refused is said at the sheet, and the sheet stays as it was', () =>
    opened('#sheet/growth', async (house) => {
      const part = house.show.songs[2]?.parts[0]
      const lamp = house.show.rig.lamps.find(({ id }) => id === part?.lamps[0])
      if (!part || !lamp) throw new Error('no part')
      for (const id of part.lamps.slice(1)) {
        const name = house.show.rig.lamps.find((one) => one.id === id)?.name
        await house.page.getByRole('button', { name: `${name}, part ${part.id}: ` }).click()
        await house.next()
      }
      await cell(house, `${lamp.name}, part ${part.id}: first of one`).click()
      await house.next()
      await house.page.locator('lan-sheet-grid').getByRole('alert').waitFor()
      await cell(house, `${lamp.name}, part ${part.id}: first of one`).waitFor()
      expect(house.show.songs[2]?.parts[0]?.lamps).toEqual([part.lamps[0]])
    }))

  test('rings the lamps that a part lights or claims now, in the playing song alone', () =>
    opened('#sheet', async (house) => {
      const ringed = (how = 'lit') =>
        house.page.evaluate<string[]>(
          `[...document.querySelector('lan-app').shadowRoot.querySelector('lan-sheet-room').shadowRoot.querySelector('lan-sheet-grid').shadowRoot.querySelectorAll('td.${how}')].map((cell) => cell.dataset.part + ' ' + cell.dataset.lamp)`,
        )
      await expect.poll(async () => (await ringed())[0]).toBe('lead fern')
      await house.screen.say({
        type: 'lamps',
        at: 3_000_000,
        lamps: [
          { lamp: 'fern', on: false },
          { lamp: 'palm', on: false, claimedBy: 'low' },
          { lamp: 'sedge', on: true, part: 'low', player: 'bass', key: 40, duty: 0.2 },
        ],
      })
      await expect.poll(ringed).toEqual(['low sedge'])
      await expect.poll(() => ringed('kept')).toEqual(['low palm'])
      await house.page.getByRole('link', { name: 'Mist clock' }).click()
      await expect.poll(ringed).toEqual([])
      expect(await ringed('kept')).toEqual([])
    }))
})

describe('the form of a part', () => {
  test('all but the strategy, by keyboard alone', () =>
    opened('#sheet/dew/lead', async (house, form) => {
      const part = () => house.show.songs[0]?.parts[0]
      const typed = async (name: string, text: string) => {
        await form.type(name, text)
        await house.next()
      }
      await form.choose('Player', 'Bass')
      expect(part()?.player).toBe('bass')
      await typed('Lowest key it takes', 'C2')
      await typed('Highest key it takes', '72')
      expect(part()?.notes).toEqual([36, 72])
      await typed('Transposed by', '-12')
      expect(part()?.transpose).toBe(-12)
      await typed('Controller', '1')
      await typed('Lowest', '0.1')
      await typed('Highest', '0.4')
      expect(part()?.duty).toEqual({ base: 0.3, controller: 1, low: 0.1, high: 0.4 })
      await form.choose('Moved by', 'how hard a note is struck')
      expect(part()?.duty).toEqual({ base: 0.3, velocity: true, low: 0.1, high: 0.4 })
      await form.choose('Moved by', 'nothing: always the same')
      await typed('Duty', '0.25')
      expect(part()?.duty).toEqual({ base: 0.25, low: 0.1, high: 0.4 })
      await form.choose('Takes its lamps from other parts', 'while it plays')
      await typed('Kept after its last note', '250')
      expect(part()?.claim).toEqual({ when: 'playing', releaseMs: 250, priority: 0 })
      await typed('Priority among claims', '-3')
      expect(part()?.claim).toEqual({ when: 'playing', releaseMs: 250, priority: -3 })
      await form.choose('When another part’s claim takes a lamp', 'what sounds there ends')
      expect(part()?.onLost).toBe('end')
      await form.choose('Takes its lamps from other parts', 'never')
      expect(part()?.claim).toBeUndefined()
      await typed('Dark before a lit lamp is struck again', '7.5')
      expect(part()?.gapMs).toBe(7.5)
      await form.push('Moss earlier')
      await house.next()
      expect(part()?.lamps).toEqual(['moss', 'fern', 'reed', 'sedge'])
    }))

  test('a value out of range is not sent, and says what was expected', () =>
    opened('#sheet/mist/arc', async (house, form) => {
      await form.type('Width', '0')
      await house.page.getByText('expected a whole number from 1 to 512').waitFor()
      await form.type('Lowest key it takes', 'H4')
      await house.page.getByText('expected a key such as C4 or 60').waitFor()
      expect(await house.waiting()).toEqual([])
    }))

  test('a refused value goes back, and its fault stands by it until an edit is taken', () =>
    opened('#sheet/mist/arc', async (house, form) => {
      await form.type('Width', '9')
      expect((await house.next()).changes).toEqual([
        { do: 'set', path: ['songs', 1, 'parts', 0, 'strategy', 'width'], value: 9 },
      ])
      const field = house.page.getByRole('spinbutton', { name: 'Width' })
      await expect.poll(() => field.getAttribute('aria-invalid')).toBe('true')
      expect(await field.inputValue()).toBe('2')
      expect(await field.evaluate((input) => input.matches(':focus'))).toBe(true)
      const fault = house.page.locator('lan-part-form').getByText('9 lamps wide, but the part has 8')
      await fault.waitFor()
      // It is of this part alone.
      await house.page.getByRole('link', { name: /^roots/ }).click()
      await house.page.getByRole('heading', { name: 'roots' }).waitFor()
      await house.page.getByRole('link', { name: /^arc/ }).click()
      await house.page.getByRole('heading', { name: 'arc' }).waitFor()
      expect(await fault.count()).toBe(0)
      await form.type('Width', '10')
      await house.next()
      await fault.or(house.page.locator('lan-part-form').getByText('10 lamps wide')).first().waitFor()
      await form.type('Width', '3')
      await house.next()
      await expect.poll(() => field.getAttribute('aria-invalid')).toBe(null)
      expect(await fault.count()).toBe(0)
    }))

  test('what is being typed stays while the show changes elsewhere', () =>
    opened('#sheet/mist/arc', async (house, form) => {
      await form.tabTo('Width')
      await form.press('Control+A')
      await form.press('4')
      await house.changeElsewhere([{ do: 'set', path: ['songs', 1, 'tempo'], value: 99 }])
      await house.page.getByText('99 beats a minute').waitFor()
      expect(await form.shown()).toBe('4')
      await form.press('Enter')
      expect((await house.next()).base).toBe(2)
      expect(house.show.songs[1]?.parts[0]?.strategy['width']).toBe(4)
    }))

  test('parts are added, named, moved and removed', () =>
    opened('#sheet/dew', async (house, form) => {
      await form.push('Add a part')
      expect((await house.next()).label).toBe('Part part added to Dew on the panes')
      await expect.poll(() => house.page.url()).toContain('#sheet/dew/part')
      await expect.poll(() => form.focused()).toBe('part')
      await form.type('Name of the part', 'lead')
      await house.page.getByText('is taken').waitFor()
      await form.type('Name of the part', 'echo')
      await house.next()
      await expect.poll(() => house.page.url()).toContain('#sheet/dew/echo')
      await form.push('Row up')
      await house.next()
      expect(house.show.songs[0]?.parts.map(({ id }) => id)).toEqual(['lead', 'low', 'echo', 'drips'])
      await form.push('Remove echo')
      await house.next()
      expect(house.show.songs[0]?.parts.map(({ id }) => id)).toEqual(['lead', 'low', 'drips'])
      await form.push('Undo it')
      await expect.poll(async () => (await house.screen.asked()).at(-1)?.type).toBe('undo')
    }))
})

describe('songs', () => {
  test('title, tempo to four decimals, beats, tuning', () =>
    opened('#sheet/mist', async (house, form) => {
      const song = () => house.show.songs[1]
      await form.type('Tempo', '140.12346')
      expect((await house.next()).label).toBe('tempo of Mist clock')
      expect(song()?.tempo).toBe(140.1235)
      await form.type('Title', 'Fog clock')
      await house.next()
      await form.type('Beats in a bar', '7')
      await house.next()
      await form.choose('Tuning', 'even')
      expect(song()).toMatchObject({ title: 'Fog clock', beats: 7, tuning: 'even' })
    }))

  test('are added, doubled and removed', () =>
    opened('#sheet/mist', async (house, form) => {
      await form.push('Add a song')
      await house.next()
      await expect.poll(() => house.page.url()).toContain('#sheet/new-song')
      await house.page.getByText('No part yet').waitFor()
      await form.push('Duplicate the song')
      await house.next()
      expect(house.show.songs.slice(-2).map(({ title }) => title)).toEqual(['New song', 'New song, copy'])
      await form.push('Remove the song')
      await house.next()
      expect(house.show.songs.map(({ id }) => id)).toEqual([
        'dew',
        'mist',
        'growth',
        'growth-bare',
        'new-song-copy',
      ])
      expect(house.show.setList).not.toContain('new-song')
    }))

  test('the set list and how a song is entered are in Songs, which is a link away', () =>
    opened('#sheet/mist', async (house) => {
      await house.page.getByRole('link', { name: /^Set list, notes, variants/ }).click()
      await house.page.locator('lan-song-page').getByRole('heading', { name: 'Mist clock' }).waitFor()
      expect(new URL(house.page.url()).hash).toBe('#songs/mist')
      await house.page.getByRole('link', { name: /^Its hook-up sheet/ }).click()
      await house.page.locator('lan-sheet-grid').waitFor()
      expect(new URL(house.page.url()).hash).toBe('#sheet/mist')
    }))
})

/** Twelve parts over 64 lamps. */
function largeShow(): Show {
  const show = demoShow()
  const [first] = show.rig.lamps
  const [dew] = show.songs
  const [lead] = dew?.parts ?? []
  if (!first || !dew || !lead) throw new Error('no lamp')
  const lamps = Array.from({ length: 64 }, (_, slot) => ({
    ...first,
    id: `bulb-${slot + 1}`,
    name: `Bulb ${slot + 1}`,
    slot,
    x: slot,
  }))
  const parts = Array.from({ length: 12 }, (_, place) => ({
    ...lead,
    id: `part-${place + 1}`,
    lamps: lamps.slice(place * 5, place * 5 + 8).map(({ id }) => id),
  }))
  const text = JSON.stringify({
    ...show,
    rig: { ...show.rig, lamps },
    songs: [{ ...dew, parts }],
    setList: ['dew'],
  })
  const parsed = parseShow(text, strategies)
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults))
  return parsed.show
}

describe.each(SIZES)('at %i x %i', (width, height) => {
  const isPageStill = (house: EditedHouse) =>
    house.page.evaluate<boolean>(
      `document.scrollingElement.scrollWidth <= innerWidth && (() => { const main = document.querySelector('lan-app').shadowRoot.querySelector('main'); return main.scrollWidth <= main.clientWidth })()`,
    )

  test.each([
    ['sheet', '#sheet', undefined],
    ['sheet-part', '#sheet/mist/arc', undefined],
    ['sheet-large', '#sheet/dew/part-3', largeShow],
  ] as const)('%s has no fault of access and no scroll sideways', (name, hash, make) =>
    opened(
      hash,
      async (house) => {
        await house.page.locator('lan-sheet-grid').waitFor()
        await house.page.screenshot({ path: `${SHOTS}/${name}-${width}x${height}.png` })
        expect(await axeFaults(house.page)).toEqual([])
        expect(await isPageStill(house)).toBe(true)
      },
      { width, height, ...(make ? { show: make() } : {}) },
    ),
  )

  test('64 lamps and 12 parts roll inside the sheet, under heads that stay', () =>
    opened(
      '#sheet/dew',
      async (house, form) => {
        await form.tabTo('Bulb 1, part part-1: first of eight')
        await form.press('Control+End')
        expect(await form.focused()).toBe('Bulb 64, part part-12: not used')
        const box = async (locator: string) => {
          const found = await house.page.locator(`lan-sheet-grid ${locator}`).boundingBox()
          if (!found) throw new Error(`${locator} is not there`)
          return found
        }
        const frame = await box('.roll')
        const corner = await box('thead th.corner')
        const head = await box('tbody tr:last-child th')
        const column = await box('thead th:last-child')
        const focused = await box('tbody tr:last-child td:last-child')
        expect(Math.abs(corner.x - frame.x)).toBeLessThan(3)
        expect(Math.abs(corner.y - frame.y)).toBeLessThan(3)
        expect(Math.abs(head.x - frame.x)).toBeLessThan(3)
        expect(Math.abs(column.y - frame.y)).toBeLessThan(3)
        expect(focused.x).toBeGreaterThan(head.x + head.width - 1)
        expect(focused.x + focused.width).toBeLessThanOrEqual(frame.x + frame.width + 1)
        expect(focused.y).toBeGreaterThan(column.y + column.height - 1)
        // Back to the beginning: what has the focus is never under the heads.
        await form.press('ArrowUp')
        await form.press('Home')
        await form.press('ArrowRight')
        const first = await box('tbody tr:nth-child(11) td:nth-child(2)')
        expect(first.x).toBeGreaterThan(head.x + head.width - 2)
        expect(await isPageStill(house)).toBe(true)
      },
      { width, height, show: largeShow() },
    ))
})

test('without a show, it says so', async () => {
  const house = await EditedHouse.open(browser, { hash: '#sheet', noShow: true })
  await house.page.getByText('The show is not here yet.').waitFor()
  expect(await axeFaults(house.page)).toEqual([])
  await house.close()
})
